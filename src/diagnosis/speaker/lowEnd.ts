import type { Curve } from '../../curve/curve.js';
import { log2 } from '../../elementary/logarithm.js';
import { upperMedian } from '../../elementary/upperMedian.js';

/** A curve's low end, in means over bands of equal width. */
export interface LowEnd {
  /** log2 of frequency in hertz, n ascending. */
  readonly octave: Float64Array;
  /** Over the middle of the pass band. */
  readonly levelDb: Float64Array;
}

/** The fall is held against the pass band up to here: enough for a baffle's step to be told from a fall. */
const PASS_TO_HZ = 2000;
const BANDS_PER_OCTAVE = 8;
/** Deeper than this under the pass band a measurement shows its noise rather than the speaker. */
const FLOOR_DB = -18;
const FARTHEST_BELOW = 2.5;
const LEAST_BANDS = 20;

/**
 * The part of a curve that tells of its box.
 *
 * @param tenDownHz where the curve is 10 dB down
 * @returns nothing where too little is there
 */
export function lowEnd({ frequencyHz, levelDb }: Curve, tenDownHz: number): LowEnd | undefined {
  const octave: number[] = [];
  const level: number[] = [];
  let count = 0;
  let band = Number.NaN;
  for (let i = 0; i < frequencyHz.length; i++) {
    const hz = frequencyHz[i]!;
    if (hz < tenDownHz / FARTHEST_BELOW || hz > PASS_TO_HZ) continue;
    const x = log2(hz);
    const here = Math.floor(x * BANDS_PER_OCTAVE);
    if (here !== band) {
      octave.push(0);
      level.push(0);
      count = 0;
      band = here;
    }
    const k = octave.length - 1;
    octave[k]! += (x - octave[k]!) / ++count;
    level[k]! += (levelDb[i]! - level[k]!) / count;
  }
  const ten = log2(tenDownHz);
  const passed = level.filter((_, k) => octave[k]! > ten + 1 && octave[k]! < ten + 3);
  if (passed.length < BANDS_PER_OCTAVE / 2) return undefined;
  const middleDb = upperMedian(passed);
  let first = octave.findIndex((x) => x >= ten);
  const around = (k: number) => (level[Math.max(0, k - 1)]! + level[k]! + level[k + 1]!) / 3;
  while (first > 0 && around(first - 1) > middleDb + FLOOR_DB) first--;
  if (first < 0 || octave.length - first < LEAST_BANDS) return undefined;
  return {
    octave: Float64Array.from(octave.slice(first)),
    levelDb: Float64Array.from(level.slice(first), (db) => db - middleDb),
  };
}
