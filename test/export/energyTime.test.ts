import { expect, test } from 'vitest';
import { energyTimeSvg } from '../../src/export/plot/energyTimeSvg.js';
import { energyTimeCsv } from '../../src/export/tables/energyTimeCsv.js';
import { energyTimeCurve } from '../../src/impulse/arrivals/energyTimeCurve.js';
import { responseReport } from '../../src/pipeline/responseReport.js';

const sampleRateHz = 48_000;
const samples = new Float64Array(9600);
samples[480] = 1;
samples[480 + 240] = 0.5;
const impulse = { samples, sampleRateHz };
const curve = energyTimeCurve(impulse, { arrivalS: 0.01 });

test('the rows show the direct sound at 0 ms and a reflection of half its height 5 ms later', () => {
  const [head, ...rows] = energyTimeCsv(curve).trimEnd().split('\r\n');
  expect(head).toBe('time from the direct sound (ms),level (dB re direct sound)');
  const levels = new Map(rows.map((row) => row.split(',').map(Number) as [number, number]));
  expect(Math.abs(levels.get(0)!)).toBeLessThan(0.1);
  expect(Math.abs(levels.get(5)! - 20 * Math.log10(0.5))).toBeLessThan(0.1);
});

test('the drawing marks the reflection, and its title cannot break out', () => {
  const report = responseReport({ title: 'a <b> & "c" ]]>', impulse });
  const svg = energyTimeSvg(report, curve);
  expect(svg).toMatch(/^<svg [\s\S]*<\/svg>\n$/);
  expect(svg).not.toContain('<b>');
  expect(svg.match(/<circle /g)).toHaveLength(report.reflections.length);
  expect(report.reflections).toHaveLength(1);
});
