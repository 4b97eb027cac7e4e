import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { logGrid } from '../../../src/curve/logGrid.js';
import { diagnose } from '../../../src/diagnosis/diagnose.js';
import { betweenFlanks } from '../../../src/diagnosis/features/betweenFlanks.js';
import type { Finding } from '../../../src/diagnosis/verdict/finding.js';
import { lonelyNull, type Response, sum, ventedFall } from '../../pipeline/samples.js';

const frequencyHz = logGrid(20, 20000);
const octave = frequencyHz.map((hz) => Math.log2(hz));
const heights = (response: Response) => betweenFlanks(octave, frequencyHz.map(response));
const at = (values: Float64Array, hz: number) => values[frequencyHz.findIndex((f) => f >= hz * 0.999)]!;
/** A rise as broad as an octave, `db` high. */
const rise =
  (hz: number, db: number): Response =>
  (f) =>
    db * 0.5 ** ((Math.log2(f / hz) / 0.5) ** 2);

describe('height between flanks', () => {
  test('is 0 on slopes, on peaks and in what is wider than a third of an octave', () => {
    const none = [
      (hz: number) => 3 * Math.log2(hz),
      (hz: number) => -12 * Math.log2(hz),
      rise(1000, 10),
      lonelyNull(1000, -6, 0.1),
    ];
    for (const response of none) expect(Math.max(...heights(response).map(Math.abs))).toBeCloseTo(0, 9);
    // Of a dip 2 octaves wide only the bottom of a window's width is cut off.
    expect(Math.min(...heights(lonelyNull(1000, 6, 2)))).toBeGreaterThan(-0.2);
  });

  test('is the depth of a narrow dip wherever it lies, over the lower flank on a slope', () => {
    expect(at(heights(lonelyNull(1000, 4, 0.06)), 1000)).toBeCloseTo(-4, 1);
    expect(at(heights(sum(rise(1000, 8), lonelyNull(1000, 4, 0.06))), 1000)).toBeLessThan(-3);
    // On a slope of 6 dB per octave the lower flank lies up to a sixth of an octave, 1 dB, below the line.
    const sloping = at(heights(sum((hz) => 6 * Math.log2(hz), lonelyNull(1000, 4, 0.06))), 1000);
    expect(sloping).toBeLessThan(-3);
    expect(sloping).toBeGreaterThan(-4);
  });

  test('is never above 0, and the same for a curve at another level', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -20, max: 20, noNaN: true }), { minLength: 40, maxLength: 120 }),
        fc.integer({ min: -50, max: 50 }),
        (db, offset) => {
          const levelDb = Float64Array.from(db);
          const where = octave.subarray(0, db.length);
          const height = betweenFlanks(where, levelDb);
          expect(Math.max(...height)).toBeLessThanOrEqual(0);
          const other = betweenFlanks(
            where,
            levelDb.map((x) => x + offset),
          );
          for (const [i, h] of height.entries()) expect(other[i]).toBeCloseTo(h, 9);
        },
      ),
    );
  });
});

describe('a narrow dip on top of a rise, above any trend', () => {
  const found = (...parts: Response[]): Finding | undefined => {
    const box = ventedFall(60);
    const levelDb = frequencyHz.map((hz) => 80 + sum(box, rise(2000, 6), ...parts)(hz));
    const { findings } = diagnose({
      curve: { frequencyHz, levelDb },
      range: { fromHz: 60, toHz: 18000 },
    });
    return findings.find(
      ({ kind, frequencyHz: hz }) => kind === 'dip' && Math.abs(Math.log2(hz / 2000)) < 0.05,
    );
  };
  /** Level of the direct sound with an echo that is heard `delayS` later. */
  const echo =
    (delayS: number, strength: number): Response =>
    (hz) =>
      10 * Math.log10(1 + strength ** 2 + 2 * strength * Math.cos(2 * Math.PI * hz * delayS));

  test('is found; alone in a calm curve it is the speaker’s and mended', () => {
    expect(found()).toBeUndefined();
    const own = found(lonelyNull(2000, 4, 0.18));
    expect(own?.levelDb).toBeLessThan(-2.5);
    expect(own?.verdict).toBe('equalize');
  });

  test('is not mended in the comb of a late echo', () => {
    // Dips at odd multiples of 1 / 2T: the seventh lies at 2 kHz.
    const late = found(echo(6.5 / 2000, 0.35));
    expect(late).toBeDefined();
    expect(late!.verdict).not.toBe('equalize');
  });
});
