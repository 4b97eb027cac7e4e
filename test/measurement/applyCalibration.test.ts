import { describe, expect, it } from 'vitest';
import { InputError } from '../../src/inputError.js';
import { applyCalibration } from '../../src/measurement/applyCalibration.js';
import { curveOf, logPoints } from '../curve/curveSamples.js';

const points = logPoints(50, 5000, 24);
const microphone = (f: number) => 2 * Math.log2(f / 1000);

describe('applyCalibration', () => {
  it('takes the microphone out of the level and its phase out of the phase', () => {
    const curve = { ...curveOf(points, (f) => 80 + microphone(f)), phaseRad: points.map((f) => -f / 500) };
    const coarse = logPoints(20, 20_000, 3);
    const calibration = { ...curveOf(coarse, microphone), phaseRad: coarse.map((f) => f / 1000) };
    const { curve: corrected, warnings } = applyCalibration(curve, calibration);
    corrected.levelDb.forEach((l) => {
      expect(l).toBeCloseTo(80, 9);
    });
    corrected.phaseRad!.forEach((p, i) => {
      expect(p).toBeCloseTo(-points[i]! / 500 - points[i]! / 1000, 9);
    });
    expect(warnings).toEqual([]);
  });

  it('leaves the phase alone where the calibration has none', () => {
    const curve = { ...curveOf(points, () => 80), phaseRad: points.map((f) => -f / 500) };
    expect(applyCalibration(curve, curveOf(points, microphone)).curve.phaseRad).toEqual(curve.phaseRad);
  });

  it('holds the end value where the calibration ends, and warns of it with the span', () => {
    const { curve, warnings } = applyCalibration(
      curveOf(points, () => 80),
      curveOf(logPoints(100, 2000, 6), microphone),
    );
    expect(curve.levelDb[0]).toBeCloseTo(80 - microphone(100), 9);
    expect(curve.levelDb.at(-1)).toBeCloseTo(80 - microphone(logPoints(100, 2000, 6).at(-1)!), 9);
    expect(warnings.map((w) => w.code)).toEqual(['calibration-range']);
    expect(warnings[0]!.message).toContain('100 Hz to 1.8 kHz');
  });

  it('warns of one whose levels are no deviation: a measurement, given in its place', () => {
    const curve = curveOf(points, () => 80);
    const codes = (at: number) =>
      applyCalibration(
        curve,
        curveOf(points, (f) => at + microphone(f)),
      ).warnings.map(({ code }) => code);
    expect([78, -38].map(codes)).toEqual([['calibration-suspect'], ['calibration-suspect']]);
    expect([0, 6, -12].flatMap(codes)).toEqual([]);
  });

  it('refuses a calibration for another range', () => {
    expect(() =>
      applyCalibration(
        curveOf(points, () => 80),
        curveOf(logPoints(6000, 20_000, 6), microphone),
      ),
    ).toThrow(InputError);
  });
});
