import { roundDb } from '../curve/roundDb.js';
import type { Verification } from '../schema/verification.js';
import type { Comparison } from './comparison.js';
import type { Scatter } from './scatter.js';

/** Octave mid-bands of the base-two series around 1 kHz; of an octave cut short at least half must be covered. */
const CENTRES_HZ = [31.25, 62.5, 125, 250, 500, 1000, 2000, 4000, 8000, 16000];
const LEAST_POINTS = 12;

/** What was promised and what came, octave by octave over the design's range, level left out. */
export function octaveTable(
  comparison: Comparison,
  reference: Scatter,
  levelShiftDb: number,
): Verification['octaves'] {
  const { frequencyHz, beforeDb, afterDb, promisedDb, range } = comparison;
  return CENTRES_HZ.flatMap((centreHz) => {
    const inside = Array.from(frequencyHz, (hz, i) => ({ hz, i })).filter(
      ({ hz }) =>
        hz >= Math.max(range.fromHz, centreHz / Math.SQRT2) &&
        hz < Math.min(range.toHz, centreHz * Math.SQRT2),
    );
    if (inside.length < LEAST_POINTS) return [];
    const mean = (value: (i: number) => number) =>
      inside.reduce((sum, { i }) => sum + value(i), 0) / inside.length;
    const added = (i: number) => afterDb[i]! - beforeDb[i]! - levelShiftDb;
    return [
      {
        centreHz,
        promisedDb: roundDb(mean((i) => promisedDb[i]!)),
        measuredDb: roundDb(mean(added)),
        differenceRmsDb: roundDb(Math.sqrt(mean((i) => (added(i) - promisedDb[i]!) ** 2))),
        expectedRmsDb: roundDb(Math.sqrt(mean((i) => reference.deviationDb[i]! ** 2))),
      },
    ];
  });
}
