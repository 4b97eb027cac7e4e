import type { Curve } from '../curve/curve.js';

/** The shape that the response should have. Everything absent means flat. */
export interface TargetRequest {
  /** Level over frequency; held constant beyond its ends and shifted to 0 dB at 1 kHz. */
  readonly breakpoints?: Curve;
  readonly bassShelfDb?: number;
  readonly bassShelfFrequencyHz?: number;
  /** Rise per octave about 1 kHz; negative falls toward the treble. */
  readonly tiltDbPerOctave?: number;
}

/** Where the bass shelf has half its gain, unless the user says otherwise. */
export const DEFAULT_BASS_SHELF_HZ = 120;
