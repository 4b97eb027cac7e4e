import { interpolateLevel } from '../curve/interpolateLevel.js';
import { log2 } from '../elementary/logarithm.js';
import { filterResponseDb } from '../filter/filterResponseDb.js';
import { DEFAULT_BASS_SHELF_HZ, type TargetRequest } from './targetRequest.js';

/** High enough that the bilinear warping of the shelf is far below 0.001 dB in the audio band. */
const SHELF_SAMPLE_RATE_HZ = 3_072_000;

/**
 * The target's shape in dB at each frequency, 0 dB at 1 kHz before shelf and tilt. The bass shelf has the form of the
 * Audio EQ Cookbook's low shelf with Q = 1/√2 (its analogue prototype, so it does not depend on the sample rate).
 *
 * @param frequencyHz n positive frequencies
 */
export function targetShapeDb(target: TargetRequest, frequencyHz: Float64Array): Float64Array {
  const { breakpoints, bassShelfDb = 0, bassShelfFrequencyHz = DEFAULT_BASS_SHELF_HZ } = target;
  const shelf = filterResponseDb(
    { type: 'lowShelf', frequencyHz: bassShelfFrequencyHz, gainDb: bassShelfDb, q: Math.SQRT1_2 },
    SHELF_SAMPLE_RATE_HZ,
    frequencyHz,
  );
  const atOneKilohertz = breakpoints ? interpolateLevel(breakpoints, 1000) : 0;
  return frequencyHz.map((hz, i) => {
    const drawn = breakpoints ? interpolateLevel(breakpoints, hz) - atOneKilohertz : 0;
    return drawn + shelf[i]! + (target.tiltDbPerOctave ?? 0) * log2(hz / 1000);
  });
}
