import { expect, test } from 'vitest';
import { logGrid } from '../../src/curve/logGrid.js';
import { looksLikePhase } from '../../src/measurement/looksLikePhase.js';
import { readMeasurementText } from '../../src/measurement/readMeasurementText.js';
import { curveOf, speakerDb } from '../curve/curveSamples.js';

const grid = logGrid(20, 20_000, 48);
/** Of a delay, in degrees, wrapped. */
const wrapped = (delayS: number) => (hz: number) => {
  const turns = -hz * delayS;
  return 360 * (turns - Math.round(turns));
};
const codes = (levelOf: (hz: number) => number) =>
  looksLikePhase(curveOf(grid, levelOf), 'a.txt').map(({ code }) => code);
const bytes = (rows: string) => new TextEncoder().encode(rows);

test('columns of frequency, phase and level without a heading are told of, and read as named with one', () => {
  const rows = Array.from(grid, (hz) => `${hz} ${wrapped(0.003)(hz).toFixed(2)} ${speakerDb(hz)}`).join('\n');
  const [warning] = readMeasurementText(bytes(rows), 'phase.txt').warnings;
  expect(warning?.code).toBe('level-unit-suspect');
  expect(warning!.message).toMatch(/^phase\.txt .*phase in degrees.*heading line/);
  const named = readMeasurementText(bytes(`Frequency (Hz) Phase (deg) SPL (dB)\n${rows}`), 'phase.txt');
  expect(named.warnings.map(({ code }) => code)).not.toContain('level-unit-suspect');
  expect(named.curve.levelDb[10]).toBeCloseTo(speakerDb(grid[10]!), 6);
});

test.each([0.0004, 0.001, 0.008, 0.05])('a phase of %s s is known by its wraps', (delayS) => {
  expect(codes(wrapped(delayS))).toEqual(['level-unit-suspect']);
});

test('levels are not, however deep their nulls, at whatever level, and with one row gone wrong', () => {
  expect(codes(speakerDb)).toEqual([]);
  expect(codes((hz) => speakerDb(hz) - 150)).toEqual([]);
  const comb = (hz: number) => 80 + 20 * Math.log10(Math.abs(Math.cos(Math.PI * hz * 0.003)) + 1e-9);
  expect(codes(comb)).toEqual([]);
  expect(codes((hz) => (hz === grid[0] ? -179 : 90))).toEqual([]);
  const noData = new Set([grid[10], grid[80], grid[200]]);
  for (const db of [-100, -120, -160]) expect(codes((hz) => (noData.has(hz) ? db : 85))).toEqual([]);
});
