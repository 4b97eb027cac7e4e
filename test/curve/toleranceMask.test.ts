import { describe, expect, it } from 'vitest';
import { evaluateMask, plainMask, toleranceMask } from '../../src/curve/toleranceMask.js';
import { InputError } from '../../src/inputError.js';
import { logPoints } from './curveSamples.js';

describe('toleranceMask', () => {
  const mask = toleranceMask('ours', [
    [1600, -2, 1],
    [100, -6, 3],
  ]);
  const points = logPoints(50, 3200, 12);

  it('joins breakpoints by straight lines over log frequency, and judges nothing outside', () => {
    // At 400 Hz, half-way: −4 and +2 dB.
    const at400 = (db: number) => evaluateMask(mask, Float64Array.of(400), Float64Array.of(db)).within;
    expect([-4.01, -3.99, 1.99, 2.01].map(at400)).toEqual([false, true, true, false]);
    expect(evaluateMask(mask, Float64Array.of(50, 3200), Float64Array.of(40, -40)).within).toBe(true);
  });

  it('tells where a curve leaves it, on which side, and by how much at worst', () => {
    const deviation = points.map((f) =>
      f > 190 && f < 210 ? 5 : f > 790 && f < 900 ? -4 - (f > 830 ? 1 : 0) : 0,
    );
    const { within, excesses } = evaluateMask(mask, points, deviation);
    expect(within).toBe(false);
    expect(excesses.map((e) => e.side)).toEqual(['above', 'below']);
    expect(excesses[0]!.fromHz).toBeCloseTo(200, 9);
    expect(excesses[0]!.worstDb).toBeCloseTo(2.5, 9);
    expect(excesses[1]!.fromHz).toBeCloseTo(800, 9);
    expect(excesses[1]!.toHz).toBeGreaterThan(840);
    expect(excesses[1]!.worstHz).toBe(excesses[1]!.toHz);
    expect(excesses[1]!.worstDb).toBeGreaterThan(1.9);
  });

  it('keeps a jump from above to below apart', () => {
    const { excesses } = evaluateMask(plainMask, Float64Array.of(500, 510), Float64Array.of(9, -9));
    expect(excesses.map((e) => [e.side, e.worstDb])).toEqual([
      ['above', 6],
      ['below', 6],
    ]);
  });

  it('the plain one allows 3 dB in the middle and more at the ends', () => {
    const result = (hz: number, db: number) =>
      evaluateMask(plainMask, Float64Array.of(hz), Float64Array.of(db)).within;
    expect([result(1000, 2.9), result(1000, 3.1), result(1000, -3.1)]).toEqual([true, false, false]);
    expect([result(55, -5), result(15_000, -5), result(20, -30)]).toEqual([true, true, true]);
  });

  it.each([
    ['one breakpoint', [[100, -3, 3]]],
    [
      'crossed limits',
      [
        [100, 3, -3],
        [200, -3, 3],
      ],
    ],
    [
      'two at one frequency',
      [
        [100, -3, 3],
        [100, -2, 2],
      ],
    ],
    [
      'no frequency',
      [
        [0, -3, 3],
        [100, -2, 2],
      ],
    ],
    [
      'no number',
      [
        [Number.NaN, -3, 3],
        [100, -2, 2],
      ],
    ],
  ] as [string, [number, number, number][]][])('%s is refused', (_, rows) => {
    expect(() => toleranceMask('x', rows)).toThrow(InputError);
  });
});
