import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bankResponseDb } from '../../../src/filter/bankResponseDb.js';
import type { Filter } from '../../../src/filter/filter.js';
import { bandsFromFilters, filtersFromBands, withoutBand } from '../../../src/fit/bank/bands.js';
import { boundsOf, clampBands, lowerBound, upperBound } from '../../../src/fit/bank/bounds.js';
import { polish } from '../../../src/fit/finish/polish.js';
import { prune } from '../../../src/fit/finish/prune.js';
import { charged } from '../../../src/fit/objective/gainCharge.js';
import { squaredError } from '../../../src/fit/objective/objective.js';
import { objectiveValue } from '../../../src/fit/refinement/objectiveValue.js';
import { refine } from '../../../src/fit/refinement/refine.js';
import { nearest, refineLocally, withNeighbours } from '../../../src/fit/refinement/refineLocally.js';
import { SEED } from '../../filter/filterArbitrary.js';
import { bank, LIMITS, objectiveFor, pressedObjective, problemOf, wander } from '../problems.js';

const bounds = boundsOf({ ...LIMITS, maxShelfQ: 1 });
const POLISH = { stretches: 4, iterationsPerStretch: 5, tolerance: 1e-6 };

const TRUE_BANK: readonly Filter[] = [
  { type: 'lowShelf', frequencyHz: 90, gainDb: -4, q: 0.8 },
  { type: 'peaking', frequencyHz: 400, gainDb: 5, q: 2 },
  { type: 'peaking', frequencyHz: 2500, gainDb: -6, q: 1.2 },
];
const minus = (filters: readonly Filter[]) => (hz: Float64Array) =>
  bankResponseDb(filters, 48000, hz).map((db) => -db);
const rmsOf = (
  objective: Parameters<typeof objectiveValue>[0],
  bands: Parameters<typeof objectiveValue>[1],
) => {
  objectiveValue(objective, bands);
  return Math.sqrt(squaredError(objective));
};
const exact = { restraint: 0, levelRestraint: 0 };

function expectWithinBounds(bands: Parameters<typeof objectiveValue>[1]): void {
  bands.values.forEach((value, j) => {
    expect(value).toBeGreaterThanOrEqual(lowerBound(bounds, bands, j));
    expect(value).toBeLessThanOrEqual(upperBound(bounds, bands, j));
  });
}

describe('refine', () => {
  test('never raises the value and keeps every number within its bounds', () => {
    fc.assert(
      fc.property(pressedObjective, ({ objective, bands }) => {
        const { types } = bands;
        const before = objectiveValue(objective, clampBands(bands, bounds));
        const refined = refine(objective, bands, bounds, { maxIterations: 15, tolerance: 1e-6 });
        expect(refined.value).toBeLessThanOrEqual(before * (1 + 1e-12));
        expect(refined.value).toBeCloseTo(objectiveValue(objective, refined.bands), 8);
        expect(refined.bands.types).toEqual(types);
        expectWithinBounds(refined.bands);
      }),
      { ...SEED, numRuns: 60 },
    );
  });

  test('finds a bank again from a start some way off', () => {
    const objective = objectiveFor(problemOf({ deviationDb: minus(TRUE_BANK) }), 3, exact);
    const start = bandsFromFilters(
      TRUE_BANK.map((f) => ({ ...f, frequencyHz: f.frequencyHz * 1.3, gainDb: f.gainDb * 0.4, q: 1 })),
    );
    expect(rmsOf(objective, start)).toBeGreaterThan(1);
    const { bands } = refine(objective, start, bounds, { maxIterations: 60, tolerance: 1e-10 });
    expect(rmsOf(objective, bands)).toBeLessThan(1e-4);
    filtersFromBands(bands).forEach((found, i) => {
      expect(found.frequencyHz / TRUE_BANK[i]!.frequencyHz).toBeCloseTo(1, 3);
      expect(found.gainDb).toBeCloseTo(TRUE_BANK[i]!.gainDb, 2);
      expect(found.q / TRUE_BANK[i]!.q).toBeCloseTo(1, 2);
    });
  });

  test('gives up early on a bank that stays hopeless, and not on one that does not', () => {
    const objective = objectiveFor(problemOf({ deviationDb: minus(TRUE_BANK) }), 3, exact);
    const one = bandsFromFilters([{ type: 'peaking', frequencyHz: 12000, gainDb: 1, q: 5 }]);
    const options = { maxIterations: 40, tolerance: 1e-9, patience: 3 };
    expect(refine(objective, one, bounds, { ...options, hopelessAbove: 1e-3 }).iterations).toBe(3);
    expect(refine(objective, one, bounds, options).iterations).toBeGreaterThan(3);
  });
});

describe('refining locally', () => {
  test('moves the chosen bands alone, and never raises the value', () => {
    fc.assert(
      fc.property(wander, bank(3, 5), (deviationDb, bands) => {
        const objective = objectiveFor(problemOf({ deviationDb }), 5);
        const inside = refine(objective, bands, bounds, { maxIterations: 0, tolerance: 1 }).bands;
        const before = objectiveValue(objective, inside);
        const moving = withNeighbours(inside, 0, 1).slice(0, 2);
        const result = refineLocally(objective, inside, moving, bounds, {
          maxIterations: 5,
          tolerance: 1e-4,
        });
        expect(result.value).toBeLessThanOrEqual(before * (1 + 1e-9));
        // What is claimed is the value of the whole bank, and nothing stays behind in the background.
        expect(objectiveValue(objective, result.bands)).toBeCloseTo(result.value, 8);
        inside.types.forEach((_, i) => {
          if (moving.includes(i)) return;
          expect(result.bands.values.slice(3 * i, 3 * i + 3)).toEqual(inside.values.slice(3 * i, 3 * i + 3));
        });
      }),
      { ...SEED, numRuns: 30 },
    );
  });

  test('knows neighbours by frequency and not by place in the bank', () => {
    const bands = bandsFromFilters(
      [5000, 50, 800, 200].map((frequencyHz) => ({ type: 'peaking', frequencyHz, gainDb: 1, q: 1 })),
    );
    expect(withNeighbours(bands, 3, 1)).toEqual([1, 3, 2]);
    expect(withNeighbours(bands, 1, 1)).toEqual([1, 3]);
    expect(nearest(bands, Math.log(4000), 2)).toEqual([0, 2]);
  });
});

describe('polish', () => {
  test('is never worse than its start and keeps the bounds', () => {
    fc.assert(
      fc.property(pressedObjective, ({ objective, bands }) => {
        const start = refine(objective, bands, bounds, { maxIterations: 2, tolerance: 1e-6 }).bands;
        const before = objectiveValue(objective, start);
        const polished = polish(objective, start, bounds, { ...POLISH, stretches: 2 });
        expect(polished.value).toBeLessThanOrEqual(before);
        expect(objectiveValue(objective, polished.bands)).toBeCloseTo(polished.value, 9);
        expectWithinBounds(polished.bands);
      }),
      { ...SEED, numRuns: 12 },
    );
  });

  test('goes where the own refinement goes', () => {
    const objective = objectiveFor(problemOf({ deviationDb: minus(TRUE_BANK) }), 3, exact);
    const start = bandsFromFilters(TRUE_BANK.map((f) => ({ ...f, gainDb: f.gainDb * 0.8, q: f.q * 1.2 })));
    expect(rmsOf(objective, start)).toBeGreaterThan(0.3);
    const polished = polish(objective, start, bounds, POLISH);
    expect(rmsOf(objective, polished.bands)).toBeLessThan(0.002);
    expect(polished.iterations).toBeGreaterThan(0);
  });

  test('leaves alone what presses against a bound from inside, and improves the rest', () => {
    const tall = [{ type: 'peaking', frequencyHz: 1000, gainDb: 9, q: 2 }] as const;
    const problem = problemOf({ deviationDb: minus(tall), limits: { maxBoostDb: 6 } });
    const objective = objectiveFor(problem, 1, exact);
    const atMost = bandsFromFilters([{ ...tall[0], gainDb: 6, frequencyHz: 1100 }]);
    const { bands } = polish(objective, atMost, boundsOf(problem.limits), POLISH);
    expect(bands.values[1]).toBe(6);
    expect(Math.exp(bands.values[0]!)).toBeCloseTo(1000, 0);
  });

  test('stops at once where there is nothing to refine, or nothing to win', () => {
    const objective = objectiveFor(problemOf({ deviationDb: minus(TRUE_BANK) }), 3, exact);
    const none = polish(objective, bandsFromFilters([]), bounds, POLISH);
    expect(none).toMatchObject({ iterations: 0, stopReason: 'no bands to refine' });
    const done = polish(objective, bandsFromFilters(TRUE_BANK), bounds, POLISH);
    expect(done.stopReason).toBe('converged');
    expect(done.value).toBeLessThan(1e-12);
  });
});

describe('a charge on gains', () => {
  const objective = objectiveFor(problemOf({ deviationDb: minus(TRUE_BANK) }), 3, exact);
  const start = bandsFromFilters(TRUE_BANK);
  const charge = Float64Array.from(start.values, (_, j) => (j % 3 === 1 ? 0.02 : 0));
  const chargedValue = (bands: Parameters<typeof objectiveValue>[1]) =>
    objectiveValue(objective, bands) + charged(charge, bands.values);

  test('draws gains toward 0 as far as it pays, and is in the value', () => {
    const refined = refine(objective, start, bounds, { maxIterations: 60, tolerance: 1e-12, charge });
    expect(refined.value).toBeCloseTo(chargedValue(refined.bands), 9);
    expect(refined.value).toBeLessThan(chargedValue(start));
    TRUE_BANK.forEach(({ gainDb }, i) => {
      expect(Math.abs(refined.bands.values[3 * i + 1]!)).toBeLessThan(Math.abs(gainDb));
    });
    // Where it rests, no small step of any number lowers error and charge together.
    refined.bands.values.forEach((_, j) => {
      for (const step of [-1e-3, 1e-3]) {
        const values = refined.bands.values.slice();
        values[j]! += step;
        const stepped = clampBands({ types: start.types, values }, bounds);
        expect(chargedValue(stepped)).toBeGreaterThan(refined.value - 1e-9);
      }
    });
  });

  test('weighs in the polish as in the own refinement', () => {
    const own = refine(objective, start, bounds, { maxIterations: 60, tolerance: 1e-12, charge });
    const polished = polish(objective, start, bounds, { ...POLISH, stretches: 12, charge });
    expect(polished.value).toBeCloseTo(chargedValue(polished.bands), 9);
    expect(polished.value).toBeLessThan(own.value * 1.001);
  });
});

describe('prune', () => {
  const NONE = { share: 0, db: 0, goodEnoughDb: 0 };
  const twins: readonly Filter[] = [
    ...TRUE_BANK,
    { type: 'peaking', frequencyHz: 8000, gainDb: 0.02, q: 2 },
    { type: 'peaking', frequencyHz: 60, gainDb: -0.01, q: 1 },
  ];
  const objective = objectiveFor(problemOf({ deviationDb: minus(TRUE_BANK) }), 5, exact);
  const refined = (filters: readonly Filter[]) => {
    const bands = bandsFromFilters(filters);
    return { bands, value: objectiveValue(objective, bands), iterations: 0 };
  };

  test('drops what hardly helps and keeps what does', () => {
    const kept = prune(objective, refined(twins), bounds, { ...NONE, share: 0.01, db: 0.005 });
    expect(kept.bands.types.length).toBe(3);
    expect(rmsOf(objective, kept.bands)).toBeLessThan(0.005);
  });

  test('spends its allowance once, not once for each band', () => {
    const full = refined(twins);
    const fullRms = rmsOf(objective, full.bands);
    for (const db of [0.005, 0.3, 1, 3]) {
      const kept = prune(objective, full, bounds, { ...NONE, db });
      expect(rmsOf(objective, kept.bands)).toBeLessThanOrEqual(fullRms + db);
      if (kept.bands.types.length === 0) continue;
      // One more removal, refined as prune does it, would have cost too much.
      const removals = Array.from(kept.bands.types.keys()).map((i) =>
        refine(objective, withoutBand(kept.bands, i), bounds, { maxIterations: 30, tolerance: 1e-4 }),
      );
      const cheapest = Math.min(...removals.map(({ bands }) => rmsOf(objective, bands)));
      expect(cheapest).toBeGreaterThan(fullRms + db);
    }
  });

  test('keeps no band that only lowers what is good enough already', () => {
    const full = refined(twins);
    const without = prune(objective, full, bounds, { ...NONE, goodEnoughDb: 0.02 });
    expect(without.bands.types.length).toBe(3);
    // Far above any error of the curve there is nothing to do at all.
    expect(prune(objective, full, bounds, { ...NONE, goodEnoughDb: 10 }).bands.types.length).toBe(0);
  });

  test.each([
    [0.06, 3],
    [-0.06, 3],
    [0.15, 3],
    [0.3, 4],
  ])('keeps no band too faint for any device, even where it alone is missing: %s dB', (gainDb, bands) => {
    const four: readonly Filter[] = [...TRUE_BANK, { type: 'peaking', frequencyHz: 8000, gainDb, q: 2 }];
    const wanted = objectiveFor(problemOf({ deviationDb: minus(four) }), 4, exact);
    const full = refine(wanted, bandsFromFilters(four), bounds, { maxIterations: 30, tolerance: 1e-7 });
    const kept = prune(wanted, full, bounds, NONE).bands;
    expect(kept.types.length).toBe(bands);
    for (let i = 0; i < bands; i++) expect(Math.abs(kept.values[3 * i + 1]!)).toBeGreaterThanOrEqual(0.2);
  });

  test('allows a share of the error where that is more', () => {
    const four: readonly Filter[] = [...TRUE_BANK, { type: 'peaking', frequencyHz: 8000, gainDb: 0.8, q: 2 }];
    const ripple = (hz: Float64Array) => minus(four)(hz).map((db, i) => db + 3 * Math.sin(i / 3));
    const rough = objectiveFor(problemOf({ deviationDb: ripple }), 4, exact);
    const full = refine(rough, bandsFromFilters(four), bounds, { maxIterations: 30, tolerance: 1e-7 });
    expect(prune(rough, full, bounds, NONE).bands.types.length).toBe(4);
    expect(prune(rough, full, bounds, { ...NONE, share: 0.02 }).bands.types.length).toBe(3);
  });
});
