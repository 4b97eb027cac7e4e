import { expect, test } from 'vitest';
import { logGrid } from '../../src/curve/logGrid.js';
import { design } from '../../src/design.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import { trebleBoost } from '../../src/pipeline/trebleBoost.js';
import { withFilters } from '../../src/pipeline/withFilters.js';
import { curveOf, measurementOf, type Response, requestOf, sum, ventedFall } from './samples.js';

const frequencyHz = logGrid(50, 20000);
/** Second-order low-pass, Butterworth: 3 dB down at `hz0`. */
const top =
  (hz0: number): Response =>
  (hz) =>
    -10 * Math.log10(1 + (hz / hz0) ** 4);
const shelf = (gainDb: number) =>
  bankResponseDb([{ type: 'highShelf', frequencyHz: 14000, gainDb, q: 0.7 }], 96000, frequencyHz);
const warned = (eqDb: Float64Array, measured: Response) =>
  trebleBoost(
    frequencyHz,
    eqDb,
    eqDb.map((db, i) => db + measured(frequencyHz[i]!)),
  );

test('a boost where the tweeter gives up is told: how much, where, from where on, and what may suffer', () => {
  const [warning, ...others] = warned(shelf(6), top(14000));
  expect(others).toEqual([]);
  expect(warning?.code).toBe('boost-on-treble-fall');
  // 2 dB down where (f/14 kHz)⁴ = 10^0.2 − 1.
  expect(warning!.message).toContain('from about 12 kHz on');
  expect(warning!.message).toMatch(/up to [56]\.\d dB at 19\.\d+ kHz/);
  expect(warning!.message).toMatch(/tweeter.*hear.*maker rates.*--to/);
  expect(warning!.frequencyHz).toBeGreaterThan(19000);
});

test('a small boost, a cut, a boost of what does not fall, and one below the treble are not', () => {
  expect(warned(shelf(2), top(14000))).toEqual([]);
  expect(warned(shelf(-6), top(14000))).toEqual([]);
  expect(warned(shelf(6), () => 0)).toEqual([]);
  // A dip that the curve comes back from is no end.
  expect(warned(shelf(6), (hz) => (hz > 9000 && hz < 17000 ? -5 : 0))).toEqual([]);
  const upTo3k = frequencyHz.filter((hz) => hz < 3000);
  const boosted = upTo3k.map(() => 6);
  expect(
    trebleBoost(
      upTo3k,
      boosted,
      boosted.map(() => 0),
    ),
  ).toEqual([]);
});

test('a design carries it, and loses it with the boost', () => {
  const curve = curveOf(sum(() => 80, ventedFall(60), top(12000)));
  const made = design(requestOf(measurementOf(curve), { effort: 'quick' }));
  const codes = ({ warnings }: ReturnType<typeof design>) => warnings.map(({ code }) => code);
  expect(Math.max(...made.curves.eqDb.filter((_, i) => made.curves.frequencyHz[i]! > 12000))).toBeGreaterThan(
    3,
  );
  expect(codes(made)).toContain('boost-on-treble-fall');
  expect(codes(withFilters(made, []))).not.toContain('boost-on-treble-fall');
});
