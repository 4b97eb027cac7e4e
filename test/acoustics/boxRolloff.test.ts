import { describe, expect, it } from 'vitest';
import { type Box, boxCornerHz, boxLevelDb, boxPressure } from '../../src/acoustics/boxRolloff.js';
import { pressureLevelDb, pressurePhaseRad } from '../../src/acoustics/complexPressure.js';

const f = Float64Array.from({ length: 400 }, (_, i) => 5 * 2 ** (i / 40));
const boxes: Box[] = [
  { kind: 'sealed', resonanceHz: 55, qtc: 0.9 },
  { kind: 'vented', cornerHz: 62 },
  { kind: 'vented', cornerHz: 62, coefficients: [2.1, 3.1, 2.4] },
];

describe('boxRolloff', () => {
  it('complex response and level agree', () => {
    for (const box of boxes) {
      pressureLevelDb(boxPressure(f, box)).forEach((levelDb, i) => {
        expect(levelDb).toBeCloseTo(boxLevelDb(f[i]!, box), 9);
      });
    }
  });

  it('passes the pass band unchanged', () => {
    for (const box of boxes) {
      const { re, im } = boxPressure(Float64Array.of(2e5), box);
      expect(re[0]).toBeCloseTo(1, 3);
      expect(im[0]).toBeCloseTo(0, 2);
    }
  });

  it('leads by a quarter turn per order far below the corner', () => {
    const low = boxPressure(Float64Array.of(0.01), boxes[0]!);
    expect(Math.atan2(low.im[0]!, low.re[0]!)).toBeCloseTo(Math.PI, 3);
    const phase = pressurePhaseRad(boxPressure(f, boxes[1]!));
    expect(phase[0]! - phase.at(-1)!).toBeGreaterThan(1.9 * Math.PI * 0.95);
    for (let i = 1; i < phase.length; i++) expect(phase[i]!).toBeLessThan(phase[i - 1]!);
  });

  it('has its corner where half the power is left, a Butterworth one (Thiele 1971, Small 1972) at its own frequency', () => {
    for (const box of boxes) {
      const { re, im } = boxPressure(Float64Array.of(boxCornerHz(box)), box);
      expect(re[0]! ** 2 + im[0]! ** 2).toBeCloseTo(0.5, 6);
    }
    expect(boxCornerHz({ kind: 'vented', cornerHz: 62 })).toBeCloseTo(62, 4);
    expect(boxCornerHz({ kind: 'sealed', resonanceHz: 62, qtc: Math.SQRT1_2 })).toBeCloseTo(62, 6);
  });
});
