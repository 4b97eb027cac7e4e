import { expect, test } from 'vitest';
import type { Curve } from '../../src/curve/curve.js';
import { smoothOctave } from '../../src/curve/smoothOctave.js';
import { compare } from '../../src/verify/comparison.js';
import { smoothedOtherwise } from '../../src/verify/smoothedOtherwise.js';
import { unlikeFineStructure } from '../../src/verify/unlikeFineStructure.js';
import { bank, before, measuredWith, sampleRateHz } from './smallRoom.js';

/** Late echoes leave structure finer than a third of an octave; here two fixed sines on log frequency (simulated). */
const echoing = ({ frequencyHz, levelDb }: Curve): Curve => ({
  frequencyHz,
  levelDb: levelDb.map((db, i) => {
    const octave = Math.log2(frequencyHz[i]!);
    return db + 1.5 * Math.sin(2 * Math.PI * 5 * octave) + Math.sin(2 * Math.PI * 7.3 * octave + 1);
  }),
});
const off = echoing(before);
const on = echoing(measuredWith(bank));
const smoothed = (curve: Curve) => smoothOctave(curve, 1 / 3);
const warningsOf = (first: Curve, second: Curve) => {
  const comparison = compare(
    { filters: bank, sampleRateHz, range: { fromHz: 60, toHz: 16000 } },
    first,
    second,
  );
  return unlikeFineStructure(comparison, smoothedOtherwise(comparison));
};

test('of two measurements the one that was smoothed is told of', () => {
  expect(warningsOf(off, smoothed(on))[0]!.message).toContain(
    'The measurement with the filters has far less',
  );
  expect(warningsOf(smoothed(off), on)[0]!.message).toContain(
    'The measurement without the filters has far less',
  );
});

test('nothing is said where both are smoothed or neither, or where the room is smooth by nature', () => {
  expect(warningsOf(off, on)).toEqual([]);
  expect(warningsOf(smoothed(off), smoothed(on))).toEqual([]);
  expect(warningsOf(before, smoothed(measuredWith(bank)))).toEqual([]);
});

/** With structure that a twelfth of an octave levels out. */
const livelier = (curve: Curve): Curve => {
  const { frequencyHz, levelDb } = echoing(curve);
  return {
    frequencyHz,
    levelDb: levelDb.map((db, i) => db + 4 * Math.sin(2 * Math.PI * 9.1 * Math.log2(frequencyHz[i]!))),
  };
};

test.each([12, 6, 3])('a curve smoothed over 1/%i octave is told with that width, on either side', (part) => {
  const over = (curve: Curve) => smoothOctave(curve, 1 / part);
  const [off, on] = [livelier(before), livelier(measuredWith(bank))];
  const [after] = warningsOf(off, over(on));
  expect(after!.message).toContain('The measurement with the filters has');
  expect(after!.message).toContain(`smoothed over 1/${part} octave`);
  const [without] = warningsOf(over(off), on);
  expect(without!.message).toContain('The measurement without the filters has');
  expect(without!.message).toContain(`smoothed over 1/${part} octave`);
});

test('a room that changed, or filters that are not there, are no smoothing', () => {
  const moved = (distanceM: number) => echoing(measuredWith(bank, { distanceM }));
  for (const distanceM of [0.35, 0.45, 0.7]) expect(warningsOf(off, moved(distanceM))).toEqual([]);
  expect(warningsOf(off, echoing(measuredWith([])))).toEqual([]);
  expect(warningsOf(off, echoing(measuredWith(bank.slice(1))))).toEqual([]);
});
