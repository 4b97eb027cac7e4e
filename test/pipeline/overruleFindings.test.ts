import { describe, expect, test } from 'vitest';
import type { Finding } from '../../src/diagnosis/verdict/finding.js';
import { overruleFindings } from '../../src/pipeline/overruleFindings.js';

const dip: Finding = {
  kind: 'dip',
  frequencyHz: 320,
  levelDb: -6,
  widthOctaves: 0.5,
  verdict: 'move',
  cause: { type: 'reflection', surface: 'wall behind' },
  confidence: 0.9,
  evidence: ['It lies where the wall behind cancels.'],
  advice: 'Move the speaker.',
  zone: { fromHz: 250, toHz: 410 },
};
const peak: Finding = {
  kind: 'peak',
  frequencyHz: 1000,
  levelDb: 4,
  widthOctaves: 0.25,
  verdict: 'equalize',
  cause: { type: 'speaker' },
  confidence: 0.8,
  evidence: [],
};
const diagnosis = {
  findings: [dip, peak],
  warnings: [],
  notes: [],
  zones: [{ ...dip.zone!, verdict: 'move' as const }],
};

describe('verdicts given by hand', () => {
  test('without any the diagnosis is the very same', () => {
    expect(overruleFindings(diagnosis, [])).toBe(diagnosis);
  });

  test('a null that is to be mended all the same is no longer left alone, and says who said so', () => {
    const { findings, zones } = overruleFindings(diagnosis, [
      { frequencyHz: 330, verdict: 'equalize', note: 'the wall will be treated' },
    ]);
    expect(zones).toEqual([]);
    expect(findings[0]!.verdict).toBe('equalize');
    expect(findings[0]!.zone).toBeUndefined();
    expect(findings[0]!.advice).toBeUndefined();
    expect(findings[0]!.evidence[0]).toMatch(/by hand: the wall will be treated.*"move"/);
    expect(findings[1]).toBe(peak);
  });

  test('a peak that is to be left becomes a span as wide as itself that the EQ leaves alone', () => {
    const { findings, zones } = overruleFindings(diagnosis, [
      { frequencyHz: 1000, verdict: 'leave', note: '' },
    ]);
    expect(findings[1]!.verdict).toBe('leave');
    expect(zones[0]).toEqual({ ...dip.zone, verdict: 'move' });
    expect(zones[1]!.verdict).toBe('leave');
    expect(Math.log2(zones[1]!.toHz / zones[1]!.fromHz)).toBeCloseTo(0.25, 12);
    expect(Math.sqrt(zones[1]!.toHz * zones[1]!.fromHz)).toBeCloseTo(1000, 9);
  });

  test('a verdict on nothing within a sixth of an octave changes nothing', () => {
    const { findings, zones } = overruleFindings(diagnosis, [
      { frequencyHz: 500, verdict: 'leave', note: '' },
    ]);
    expect(findings).toEqual(diagnosis.findings);
    expect(zones).toEqual(diagnosis.zones);
  });
});
