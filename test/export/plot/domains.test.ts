import { expect, test } from 'vitest';
import { eqDomain } from '../../../src/export/plot/eqDomain.js';
import { levelDomain } from '../../../src/export/plot/levelDomain.js';
import { markLevel } from '../../../src/export/plot/markLevel.js';
import { sampleDesign } from '../sampleDesign.js';

test('the level axis holds every smoothed, expected and target value of the fitted range', () => {
  const design = sampleDesign();
  const [low, high] = levelDomain(design);
  design.curves.frequencyHz.forEach((hz, i) => {
    if (hz < design.range.fromHz || hz > design.range.toHz) return;
    const smoothed = design.curves.smoothedDb[i]!;
    for (const value of [smoothed, design.curves.targetDb[i]!, smoothed + design.curves.eqDb[i]!]) {
      expect(value).toBeGreaterThan(low);
      expect(value).toBeLessThan(high);
    }
  });
});

test('one needle of the unsmoothed curve, or a roll-off outside the range, does not stretch the level axis', () => {
  const design = sampleDesign();
  const measuredDb = design.curves.measuredDb.map((level, i) => (i === 300 || i < 60 ? level - 60 : level));
  const [low, high] = levelDomain({ ...design, curves: { ...design.curves, measuredDb } });
  expect(high - low).toBeLessThanOrEqual(30);
});

test('an empty range still gives an axis', () => {
  const design = sampleDesign();
  const [low, high] = levelDomain({ ...design, range: { fromHz: 30000, toHz: 40000 } });
  expect(high - low).toBeGreaterThanOrEqual(25);
});

test('the EQ axis holds the EQ, 0 dB and the allowed boost', () => {
  const design = sampleDesign();
  const [low, high] = eqDomain({ ...design, limits: { ...design.limits, maxBoostDb: 9 } });
  expect(low).toBeLessThanOrEqual(Math.min(...design.curves.eqDb));
  expect(high).toBeGreaterThan(9);
  expect(low % 3).toBeCloseTo(0);
});

test('a mark stays beyond every curve near its finding, at a peak above and at a dip below', () => {
  const design = sampleDesign();
  const { frequencyHz, measuredDb, smoothedDb, targetDb, eqDb } = design.curves;
  for (const finding of design.findings) {
    const level = markLevel(design, finding);
    frequencyHz.forEach((hz, i) => {
      if (Math.abs(Math.log2(hz / finding.frequencyHz)) > 0.1) return;
      for (const value of [measuredDb[i]!, smoothedDb[i]!, targetDb[i]!, smoothedDb[i]! + eqDb[i]!]) {
        if (finding.kind === 'peak') expect(value).toBeLessThanOrEqual(level);
        else expect(value).toBeGreaterThanOrEqual(level);
      }
    });
  }
  expect(markLevel(design, { kind: 'dip', frequencyHz: 5 })).toBe(design.levelDb);
});
