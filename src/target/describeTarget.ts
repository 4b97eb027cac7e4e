import { formatFrequency } from '../units/formatFrequency.js';
import { DEFAULT_BASS_SHELF_HZ, type TargetRequest } from './targetRequest.js';

/** The target in words: "flat", "flat, bass shelf +3 dB below 120 Hz, tilt −0.8 dB per octave". */
export function describeTarget(target: TargetRequest): string {
  const parts = [
    target.breakpoints ? `breakpoints (${target.breakpoints.frequencyHz.length})` : 'flat',
    ...(target.bassShelfDb
      ? [
          `bass shelf ${signed(target.bassShelfDb)} dB below ${formatFrequency(
            target.bassShelfFrequencyHz ?? DEFAULT_BASS_SHELF_HZ,
          )}`,
        ]
      : []),
    ...(target.tiltDbPerOctave ? [`tilt ${signed(target.tiltDbPerOctave)} dB per octave`] : []),
  ];
  return parts.join(', ');
}

function signed(db: number): string {
  return db < 0 ? `−${-db}` : `+${db}`;
}
