import { expect, test } from 'vitest';
import type { Curve } from '../../src/curve/curve.js';
import { curveDigest } from '../../src/curve/curveDigest.js';
import { otherCalibration } from '../../src/verify/otherCalibration.js';

const curve: Curve = {
  frequencyHz: Float64Array.of(20, 1000, 20000),
  levelDb: Float64Array.of(-1.2, 0, 2.5),
};
const other: Curve = { ...curve, levelDb: Float64Array.of(-1.2, 0, 2.6) };
const made = { name: 'capsule.txt', digest: curveDigest(curve) };

test('the same numbers are the same calibration, whatever the file is called, and no sign before zero', () => {
  expect(otherCalibration(made, { curve, name: 'copy.txt' })).toEqual([]);
  const signed = { ...curve, levelDb: Float64Array.of(-1.2, -0, 2.5) };
  expect(otherCalibration(made, { curve: signed })).toEqual([]);
});

test('another one, or none, is told of with the names', () => {
  const [warning] = otherCalibration(made, { curve: other, name: 'b.txt' });
  expect(warning).toMatchObject({ code: 'other-calibration' });
  expect(warning!.message).toContain('the calibration capsule.txt was taken off');
  expect(warning!.message).toContain('the calibration b.txt, which holds other numbers');
  expect(otherCalibration(made, 'none')[0]!.message).toContain('from this measurement nothing');
  const shifted = { ...curve, frequencyHz: Float64Array.of(20, 1001, 20000) };
  expect(otherCalibration(made, { curve: shifted })).toHaveLength(1);
});

test('nothing is claimed of a design that names none, nor where it is not known what was taken off', () => {
  expect(otherCalibration(undefined, { curve })).toEqual([]);
  expect(otherCalibration(made, undefined)).toEqual([]);
});
