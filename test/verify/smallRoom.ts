import { gaussian, seededRandom } from '../../fixtures/simulate/seededRandom.js';
import type { Curve } from '../../src/curve/curve.js';
import { logGrid } from '../../src/curve/logGrid.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { Filter } from '../../src/filter/filter.js';
import type { Design } from '../../src/schema/design.js';
import { sampleDesign } from '../export/sampleDesign.js';

export const sampleRateHz = 48000;
const gridHz = logGrid(20, 20000);

/** Some bank: the tests of faults need filters and a curve, not a good correction. */
export const bank: readonly Filter[] = [
  { type: 'peaking', frequencyHz: 61.2, gainDb: -6.3, q: 3.1 },
  { type: 'peaking', frequencyHz: 183, gainDb: 4.5, q: 1.7 },
  { type: 'peaking', frequencyHz: 842, gainDb: -4.8, q: 2.2 },
  { type: 'highShelf', frequencyHz: 3700, gainDb: -3.1, q: 0.71 },
];

/**
 * A speaker falling off below 55 Hz with one reflection off the wall behind, in closed form (simulated).
 *
 * @param distanceM front baffle to wall; the path is twice as much longer
 */
export function roomDb(hz: number, distanceM: number): number {
  const phase = (2 * Math.PI * hz * 2 * distanceM) / 343;
  const share = 0.5 / Math.hypot(1, hz / 900);
  const reflected = 10 * Math.log10(1 + share * share + 2 * share * Math.cos(phase));
  return 82 + reflected - 10 * Math.log10(1 + (55 / hz) ** 8) + 2 * Math.sin(1.7 * Math.log2(hz));
}

export function curveOf(levelDb: (hz: number) => number, noiseSeed?: number): Curve {
  const random = noiseSeed === undefined ? undefined : seededRandom(noiseSeed);
  return {
    frequencyHz: gridHz,
    levelDb: gridHz.map((hz) => levelDb(hz) + (random ? 0.3 * gaussian(random) : 0)),
  };
}

export const before = curveOf((hz) => roomDb(hz, 0.3), 1);

/** What is measured with these filters really in force, 2 cm of path off and with noise. */
export function measuredWith(
  filters: readonly Filter[],
  { stretch = 1, distanceM = 0.31, seed = 2 } = {},
): Curve {
  const eqDb = bankResponseDb(
    filters,
    sampleRateHz,
    gridHz.map((hz) => Math.min(sampleRateHz / 2, hz / stretch)),
  );
  const room = curveOf((hz) => roomDb(hz, distanceM), seed);
  return { ...room, levelDb: room.levelDb.map((db, i) => db - 5 + eqDb[i]!) };
}

/** A design that holds the bank and the curve. */
export function designOf(filters: readonly Filter[] = bank): Design {
  const levels = Array.from(before.levelDb);
  return {
    ...sampleDesign(),
    sampleRateHz,
    filters: [...filters],
    range: { fromHz: 45, toHz: 16000 },
    zones: [],
    curves: {
      frequencyHz: Array.from(gridHz),
      measuredDb: levels,
      smoothedDb: levels,
      targetDb: levels.map(() => 80),
      eqDb: Array.from(bankResponseDb(filters, sampleRateHz, gridHz)),
    },
  };
}
