import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { alignLevel } from '../../src/curve/alignLevel.js';
import { averagePositions } from '../../src/curve/averagePositions.js';
import type { Curve } from '../../src/curve/curve.js';
import { logGrid } from '../../src/curve/logGrid.js';
import { resampleToGrid } from '../../src/curve/resampleToGrid.js';
import { smoothOctave } from '../../src/curve/smoothOctave.js';
import { workingRange } from '../../src/curve/workingRange.js';
import { curveOf, greatestDifference, linearPoints, logPoints, peakDb } from '../curve/curveSamples.js';

const seed = 4711;
const width = fc.constantFrom(1 / 24, 1 / 12, 1 / 6, 1 / 3, 1);

/** A vented box with up to six features of Q up to 6, as a formula that can be sampled at will. */
const response = fc
  .record({
    cornerHz: fc.double({ min: 35, max: 150, noNaN: true }),
    levelDb: fc.double({ min: -40, max: 100, noNaN: true }),
    features: fc.array(
      fc.record({
        octaves: fc.double({ min: 0, max: 9, noNaN: true }),
        gainDb: fc.double({ min: -8, max: 8, noNaN: true }),
        q: fc.double({ min: 0.5, max: 6, noNaN: true }),
      }),
      { maxLength: 6 },
    ),
  })
  .map(
    ({ cornerHz, levelDb, features }) =>
      (f: number) =>
        features.reduce(
          (sum, { octaves, gainDb, q }) => sum + peakDb(f, 30 * 2 ** octaves, gainDb, q),
          levelDb - 10 * Math.log10(1 + (cornerHz / f) ** 8),
        ),
  );

/** Any curve at all: uneven points, levels that jump. */
const ragged: fc.Arbitrary<Curve> = fc
  .array(
    fc.record({
      step: fc.double({ min: 0.002, max: 0.6, noNaN: true }),
      db: fc.double({ min: -60, max: 60, noNaN: true }),
    }),
    { minLength: 3, maxLength: 150 },
  )
  .map((rows) => {
    let octaves = 0;
    const frequencyHz = Float64Array.from(rows, ({ step }) => {
      octaves += step;
      return 20 * 2 ** (octaves % 60);
    }).sort();
    return { frequencyHz, levelDb: Float64Array.from(rows, ({ db }) => db) };
  })
  .filter(({ frequencyHz }) => frequencyHz.every((f, i) => i === 0 || f > frequencyHz[i - 1]! * (1 + 1e-6)));

const shifted = (curve: Curve, db: number): Curve => ({
  ...curve,
  levelDb: curve.levelDb.map((l) => l + db),
});
const inside = ({ frequencyHz: f }: Curve) => logGrid(f[0]!, f[f.length - 1]!);

describe('curve work', () => {
  it('commutes with a constant offset', () => {
    fc.assert(
      fc.property(ragged, width, fc.double({ min: -90, max: 90, noNaN: true }), (curve, octaves, db) => {
        const grid = inside(curve);
        const moved = shifted(curve, db);
        expect(
          greatestDifference(
            smoothOctave(moved, octaves).levelDb,
            shifted(smoothOctave(curve, octaves), db).levelDb,
          ),
        ).toBeLessThan(1e-9);
        expect(
          greatestDifference(
            resampleToGrid(moved, grid).levelDb,
            shifted(resampleToGrid(curve, grid), db).levelDb,
          ),
        ).toBeLessThan(1e-9);
      }),
      { seed, numRuns: 100 },
    );
  });

  it('the working range does not depend on the level', () => {
    fc.assert(
      fc.property(response, fc.double({ min: -90, max: 90, noNaN: true }), (at, db) => {
        const curve = curveOf(logGrid(15, 20_000), at);
        const [a, b] = [workingRange(curve), workingRange(shifted(curve, db))];
        expect(Math.abs(Math.log2(a.range.fromHz / b.range.fromHz))).toBeLessThan(1e-6);
        expect(Math.abs(Math.log2(a.range.toHz / b.range.toHz))).toBeLessThan(1e-6);
      }),
      { seed, numRuns: 15 },
    );
  });

  it('smoothing and resampling stay between the least and the greatest level', () => {
    fc.assert(
      fc.property(ragged, width, (curve, octaves) => {
        const least = Math.min(...curve.levelDb) - 1e-9;
        const most = Math.max(...curve.levelDb) + 1e-9;
        for (const l of smoothOctave(curve, octaves).levelDb) expect(l >= least && l <= most).toBe(true);
        for (const l of resampleToGrid(curve, inside(curve)).levelDb)
          expect(l >= least && l <= most).toBe(true);
      }),
      { seed, numRuns: 100 },
    );
  });

  it('smoothing leaves a constant and, to the rise of a mean of power, a line, at the edges too', () => {
    fc.assert(
      fc.property(
        ragged,
        width,
        fc.double({ min: -12, max: 12, noNaN: true }),
        ({ frequencyHz }, octaves, slope) => {
          const constant = curveOf(frequencyHz, () => slope);
          expect(greatestDifference(smoothOctave(constant, octaves).levelDb, constant.levelDb)).toBeLessThan(
            1e-9,
          );
          const line = curveOf(frequencyHz, (f) => slope * Math.log2(f));
          // Mean of e^(ax) over ±h: sinh(ah)/(ah) above the middle.
          const u = (Math.abs(slope) * octaves * Math.LN10) / 20;
          const rise = u > 1e-6 ? 10 * Math.log10(Math.sinh(u) / u) : 0;
          const smoothed = smoothOctave(line, octaves).levelDb;
          smoothed.forEach((l, i) => {
            expect(l - line.levelDb[i]!).toBeGreaterThan(-1e-8);
            expect(l - line.levelDb[i]!).toBeLessThan(rise + 1e-8);
          });
          expect(smoothed[0]).toBe(line.levelDb[0]);
          expect(smoothed.at(-1)).toBe(line.levelDb.at(-1));
        },
      ),
      { seed, numRuns: 100 },
    );
  });

  it('smoothing a curve whose points are mirrored on the frequency axis mirrors the result', () => {
    fc.assert(
      fc.property(ragged, width, (curve, octaves) => {
        const mirror = ({ frequencyHz, levelDb }: Curve): Curve => ({
          frequencyHz: frequencyHz.map((f) => 1e6 / f).reverse(),
          levelDb: levelDb.slice().reverse(),
        });
        const a = mirror(smoothOctave(curve, octaves));
        const b = smoothOctave(mirror(curve), octaves);
        expect(greatestDifference(a.levelDb, b.levelDb)).toBeLessThan(1e-6);
      }),
      { seed, numRuns: 50 },
    );
  });

  it('denser sampling of one response changes the smoothed curve on the grid by less than 0.05 dB', () => {
    const grid = logGrid(40, 16_000);
    const samplings = fc.constantFrom(
      [logPoints(18, 21_000, 48), logPoints(18, 21_000, 96)],
      [logPoints(18, 21_000, 48), logPoints(18, 21_000, 300)],
      [logPoints(18, 21_000, 36), logPoints(18, 21_000, 144)],
      [linearPoints(18, 21_000, 2), linearPoints(18, 21_000, 0.5)],
      [logGrid(15, 22_000), linearPoints(15, 22_000, 1)],
    );
    fc.assert(
      fc.property(response, samplings, (at, [coarse, fine]) => {
        const [a, b] = [coarse!, fine!].map((points) =>
          smoothOctave(resampleToGrid(curveOf(points, at), grid), 1 / 12),
        );
        expect(greatestDifference(a!.levelDb, b!.levelDb)).toBeLessThan(0.05);
      }),
      { seed, numRuns: 30 },
    );
  });

  it('an average does not depend on the order of the positions, and lies between their levels', () => {
    const grid = logGrid(50, 5000, 12);
    const positions = fc.array(response, { minLength: 2, maxLength: 5 });
    fc.assert(
      fc.property(positions, (ats) => {
        const curves = ats.map((at) => curveOf(grid, at));
        const { curve, spreadDb } = averagePositions(curves);
        const other = averagePositions(curves.toReversed());
        expect(greatestDifference(curve.levelDb, other.curve.levelDb)).toBeLessThan(1e-9);
        expect(greatestDifference(spreadDb, other.spreadDb)).toBeLessThan(1e-9);
        curve.levelDb.forEach((l, i) => {
          const levels = curves.map((c) => c.levelDb[i]!);
          expect(l).toBeGreaterThan(Math.min(...levels) - 1e-9);
          expect(l).toBeLessThan(Math.max(...levels) + 1e-9);
          expect(spreadDb[i]).toBeGreaterThanOrEqual(0);
        });
      }),
      { seed, numRuns: 40 },
    );
  });

  it('aligning twice shifts no further, and aligning to a shifted copy takes the shift back', () => {
    const range = { fromHz: 200, toHz: 4000 };
    fc.assert(
      fc.property(response, response, fc.double({ min: -50, max: 50, noNaN: true }), (one, two, db) => {
        const reference = curveOf(logGrid(20, 20_000, 24), one);
        const once = alignLevel(curveOf(logGrid(20, 20_000, 12), two), reference, range);
        expect(alignLevel(once.curve, reference, range).shiftDb).toBeCloseTo(0, 9);
        expect(alignLevel(shifted(reference, db), reference, range).shiftDb).toBeCloseTo(-db, 9);
      }),
      { seed, numRuns: 40 },
    );
  });
});
