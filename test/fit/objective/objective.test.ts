import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bandsFromFilters } from '../../../src/fit/bank/bands.js';
import { bankValues } from '../../../src/fit/bank/bankKernel.js';
import { normalEquations } from '../../../src/fit/kernel/typescript/linearize.js';
import { levelOf, meanEq, squaredError } from '../../../src/fit/objective/objective.js';
import { residualRows, residualRowsJacobian } from '../../../src/fit/objective/residualRows.js';
import { objectiveValue } from '../../../src/fit/refinement/objectiveValue.js';
import { SEED } from '../../filter/filterArbitrary.js';
import { objectiveFor, pressedObjective, problemOf } from '../problems.js';

const flat = (db: number) => (hz: Float64Array) => hz.map(() => db);
const peak = (gainDb: number) => bandsFromFilters([{ type: 'peaking', frequencyHz: 1000, gainDb, q: 1 }]);

describe('the objective', () => {
  test('counts a weighted squared error about the best level, which a constant does not change', () => {
    const step = (hz: Float64Array) => hz.map((f) => (f < 632.46 ? -1 : 1));
    const at = (offset: number) =>
      objectiveFor(problemOf({ deviationDb: (hz) => step(hz).map((db) => db + offset) }), 1);
    const none = bandsFromFilters([]);
    const [a, b] = [at(0), at(7)];
    // Half the octaves at −1 dB, half at +1 dB: mean square 1.
    expect(objectiveValue(a, none)).toBeCloseTo(1, 2);
    expect(objectiveValue(b, none)).toBeCloseTo(objectiveValue(a, none), 10);
    expect(levelOf(b) - levelOf(a)).toBeCloseTo(7, 10);
  });

  test('takes a given level as it is', () => {
    const objective = objectiveFor(problemOf({ deviationDb: flat(3), levelDb: 1 }), 1);
    expect(objectiveValue(objective, bandsFromFilters([]))).toBeCloseTo(4, 10);
    expect(levelOf(objective)).toBe(1);
  });

  test('presses on a sum above the cap, also outside the range', () => {
    const options = { restraint: 0, levelRestraint: 0 };
    const problem = { deviationDb: flat(0), fromHz: 4000, limits: { maxBoostDb: 3 } };
    const objective = objectiveFor(problemOf(problem), 1, options);
    // The peak at 1 kHz lies two octaves below the range.
    const within = objectiveValue(objective, peak(2.9));
    const error = squaredError(objective);
    expect(within).toBeCloseTo(error, 12);
    const beyond = objectiveValue(objective, peak(4));
    expect(beyond).toBeGreaterThan(squaredError(objective) + 0.01);
  });

  test('presses on a mean of the EQ below the greatest level loss', () => {
    const wide = bandsFromFilters([{ type: 'highShelf', frequencyHz: 30, gainDb: -6, q: 0.7 }]);
    const options = { restraint: 0, levelRestraint: 0, penalty: 15 };
    const objective = objectiveFor(problemOf({ deviationDb: flat(0) }), 1, options);
    const value = objectiveValue(objective, wide);
    const loss = -3 - meanEq(objective);
    expect(loss).toBeGreaterThan(2);
    expect(value).toBeCloseTo(squaredError(objective) + 15 * loss ** 2, 10);
  });

  test('presses on a cut that hides in a protected zone, and not on the same cut without the zone', () => {
    const hidden = bandsFromFilters([{ type: 'peaking', frequencyHz: 1000, gainDb: -8, q: 8 }]);
    const options = { restraint: 0, levelRestraint: 0 };
    const zones = [{ fromHz: 800, toHz: 1250 }];
    const free = objectiveFor(problemOf({ deviationDb: flat(0) }), 1, options);
    const held = objectiveFor(problemOf({ deviationDb: flat(0), zones }), 1, options);
    expect(objectiveValue(free, hidden)).toBeCloseTo(squaredError(free), 12);
    expect(objectiveValue(held, hidden)).toBeGreaterThan(squaredError(held) + 0.1);
  });

  test('sees a zone that lies beyond the range, and one that fits between two points of it', () => {
    const options = { restraint: 0, levelRestraint: 0 };
    const value = (zone: { fromHz: number; toHz: number }, db: number) => {
      const problem = problemOf({ deviationDb: flat(0), fromHz: 2000, zones: [zone] });
      const objective = objectiveFor(problem, 1, options);
      return objectiveValue(objective, peak(db)) - squaredError(objective);
    };
    expect(value({ fromHz: 900, toHz: 1100 }, 0.4)).toBeCloseTo(0, 12);
    expect(value({ fromHz: 900, toHz: 1100 }, 3)).toBeGreaterThan(0.01);
    expect(value({ fromHz: 2801, toHz: 2804 }, 6)).toBeGreaterThan(0);
  });

  test('has half its numerical gradient as gradient, all penalties at work', () => {
    let pressed = 0;
    fc.assert(
      fc.property(pressedObjective, ({ objective, bands }) => {
        const value = normalEquations(objective, bands);
        expect(objectiveValue(objective, bands)).toBeCloseTo(value, 9);
        if (value > 2 * squaredError(objective)) pressed++;
        normalEquations(objective, bands);
        const gradient = objective.gradient.slice(0, bands.values.length);
        const scale = Math.max(1e-6, ...gradient.map(Math.abs));
        gradient.forEach((half, j) => {
          const valueAt = (by: number) => {
            const values = bands.values.slice();
            values[j]! += by;
            return objectiveValue(objective, { types: bands.types, values });
          };
          const h = 1e-5;
          const numeric = (valueAt(h) - valueAt(-h)) / (2 * h);
          // A limit that is met exactly within ±h bends the value; the bend is of the order of h.
          expect(Math.abs(2 * half - numeric)).toBeLessThan(1e-4 * scale);
        });
      }),
      { ...SEED, numRuns: 80 },
    );
    // Else the property would hold for the squared error alone.
    expect(pressed).toBeGreaterThan(40);
  });

  test('counts bands that stand still as part of the EQ', () => {
    fc.assert(
      fc.property(pressedObjective, ({ objective, bands }) => {
        const whole = objectiveValue(objective, bands);
        const half = Math.floor(bands.types.length / 2);
        const part = (from: number, to: number) => ({
          types: bands.types.slice(from, to),
          values: bands.values.slice(3 * from, 3 * to),
        });
        const { grid, backgroundDb } = objective;
        const still = part(half, bands.types.length);
        bankValues(still.types, still.values, grid.warped, grid.sampleRateHz, backgroundDb);
        expect(objectiveValue(objective, part(0, half))).toBeCloseTo(whole, 8);
        expect(normalEquations(objective, part(0, half))).toBeCloseTo(whole, 8);
      }),
      { ...SEED, numRuns: 20 },
    );
  });
});

describe('the rows of residuals', () => {
  test('have squares that sum to the objective', () => {
    fc.assert(
      fc.property(pressedObjective, ({ objective, bands }) => {
        const value = objectiveValue(objective, bands);
        const sum = residualRows(objective).reduce((total, r) => total + r * r, 0);
        expect(Math.abs(sum - value)).toBeLessThan(1e-10 * (1 + value));
      }),
      { ...SEED, numRuns: 60 },
    );
  });

  test('have a Jacobian that agrees with differences, and with the normal equations', () => {
    fc.assert(
      fc.property(pressedObjective, ({ objective, bands }) => {
        const n = bands.values.length;
        normalEquations(objective, bands);
        const rows = residualRows(objective);
        const matrix = residualRowsJacobian(objective, bands);
        expect(matrix.length).toBe(rows.length * n);
        const { gradient, normalMatrix } = objective;
        const columns = Array.from({ length: n }, (_, j) => rows.map((_, r) => matrix[r * n + j]!));
        columns.forEach((column, j) => {
          const slope = dot(column, rows);
          expect(Math.abs(slope - gradient[j]!)).toBeLessThan(1e-9 * (1 + Math.abs(slope)));
          for (let i = 0; i <= j; i++) {
            const product = dot(column, columns[i]!);
            expect(Math.abs(product - normalMatrix[j * n + i]!)).toBeLessThan(1e-9 * (1 + Math.abs(product)));
          }
        });
        const rowsAt = (j: number, by: number) => {
          const values = bands.values.slice();
          values[j]! += by;
          objectiveValue(objective, { types: bands.types, values });
          return residualRows(objective);
        };
        const h = 1e-5;
        columns.forEach((column, j) => {
          const [above, below] = [rowsAt(j, h), rowsAt(j, -h)];
          let worst = 0;
          column.forEach((analytic, r) => {
            const numeric = (above[r]! - below[r]!) / (2 * h);
            // On the very edge of a limit the row is bent: there either side's slope is right.
            if ((above[r] === 0) !== (below[r] === 0)) return;
            worst = Math.max(worst, Math.abs(analytic - numeric) / (1 + Math.abs(analytic)));
          });
          expect(worst).toBeLessThan(1e-5);
        });
      }),
      { ...SEED, numRuns: 25 },
    );
  });
});

function dot(a: Float64Array, b: Float64Array): number {
  return a.reduce((sum, v, i) => sum + v * b[i]!, 0);
}
