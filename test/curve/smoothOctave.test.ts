import { describe, expect, it } from 'vitest';
import { smoothOctave } from '../../src/curve/smoothOctave.js';
import { curveOf, greatestDifference, linearPoints, logPoints, speakerDb } from './curveSamples.js';

/** The mean power over the window, by brute force on the straight-line interpolant. */
function bruteForceDb(
  frequencyHz: Float64Array,
  levelDb: Float64Array,
  at: number,
  halfOctaves: number,
): number {
  const steps = 20_000;
  let segment = 0;
  let sum = 0;
  for (let k = 0; k < steps; k++) {
    const hz = at * 2 ** (halfOctaves * ((2 * k + 1) / steps - 1));
    while (segment < frequencyHz.length - 2 && frequencyHz[segment + 1]! < hz) segment++;
    const t =
      Math.log(hz / frequencyHz[segment]!) / Math.log(frequencyHz[segment + 1]! / frequencyHz[segment]!);
    sum += 10 ** ((levelDb[segment]! + t * (levelDb[segment + 1]! - levelDb[segment]!)) / 10);
  }
  return 10 * Math.log10(sum / steps);
}

describe('smoothOctave', () => {
  it.each([
    ['linear points', linearPoints(20, 4000, 3), 1 / 3],
    ['log points', logPoints(20, 4000, 48), 1 / 12],
    ['points sparser than the window', logPoints(20, 4000, 5), 1 / 12],
  ])('is the mean power over the window: %s', (_, frequencyHz, width) => {
    const { levelDb } = curveOf(frequencyHz, (f) => speakerDb(f) + 6 * Math.sin(f / 7));
    const smoothed = smoothOctave({ frequencyHz, levelDb }, width).levelDb;
    const n = frequencyHz.length;
    for (const i of [1, 2, 3, Math.round(n / 3), Math.round(n / 2), n - 4, n - 2]) {
      const room = Math.min(
        Math.log2(frequencyHz[i]! / frequencyHz[0]!),
        Math.log2(frequencyHz[n - 1]! / frequencyHz[i]!),
      );
      const half = Math.min(width / 2, room);
      expect(smoothed[i], `point ${i}`).toBeCloseTo(
        bruteForceDb(frequencyHz, levelDb, frequencyHz[i]!, half),
        5,
      );
    }
  });

  it('keeps both end values exactly and a constant everywhere', () => {
    const frequencyHz = linearPoints(10, 3000, 7);
    const curve = curveOf(frequencyHz, (f) => speakerDb(f) + 3 * Math.cos(f));
    const smoothed = smoothOctave(curve, 1 / 6);
    expect(smoothed.levelDb[0]).toBe(curve.levelDb[0]);
    expect(smoothed.levelDb.at(-1)).toBe(curve.levelDb.at(-1));
    const constant = curveOf(frequencyHz, () => 83.2);
    expect(greatestDifference(smoothOctave(constant, 1).levelDb, constant.levelDb)).toBeLessThan(1e-9);
  });

  it('raises a line in dB by the mean of its power alone, the less the closer to an end', () => {
    // Mean of e^(a·x) over ±h is e^(a·x)·sinh(ah)/(ah).
    const slope = 24;
    const width = 1 / 3;
    const frequencyHz = logPoints(50, 800, 40);
    const line = curveOf(frequencyHz, (f) => slope * Math.log2(f / 50));
    const smoothed = smoothOctave(line, width);
    const rise = (half: number) => {
      const u = (slope * half * Math.LN10) / 10;
      return u === 0 ? 0 : 10 * Math.log10(Math.sinh(u) / u);
    };
    frequencyHz.forEach((f, i) => {
      const half = Math.min(width / 2, Math.log2(f / 50), Math.log2(frequencyHz.at(-1)! / f));
      expect(smoothed.levelDb[i]! - line.levelDb[i]!).toBeCloseTo(rise(half), 6);
    });
  });

  it('keeps the digits of a quiet stretch 200 dB below a loud one', () => {
    const frequencyHz = logPoints(20, 20_000, 96);
    const quiet = curveOf(frequencyHz, (f) => (f < 200 ? 100 : -100 + Math.sin(20 * Math.log(f))));
    const alone = curveOf(
      frequencyHz.filter((f) => f > 400),
      (f) => -100 + Math.sin(20 * Math.log(f)),
    );
    const together = smoothOctave(quiet, 1 / 12).levelDb.slice(-100);
    expect(greatestDifference(together, smoothOctave(alone, 1 / 12).levelDb.slice(-100))).toBeLessThan(1e-9);
  });

  it('with width 0 gives the curve itself, and passes the phase on', () => {
    const frequencyHz = logPoints(100, 1000, 12);
    const curve = { ...curveOf(frequencyHz, speakerDb), phaseRad: frequencyHz.map((f) => -f / 100) };
    expect(smoothOctave(curve, 0)).toBe(curve);
    expect(smoothOctave(curve, 1 / 3).phaseRad).toEqual(curve.phaseRad);
  });
});
