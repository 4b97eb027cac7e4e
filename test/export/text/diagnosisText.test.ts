import { describe, expect, test } from 'vitest';
import { diagnosisJson } from '../../../src/export/json/diagnosisJson.js';
import { diagnosisText } from '../../../src/export/text/diagnosisText.js';
import type { DiagnosisReport } from '../../../src/schema/diagnosis.js';

const report: DiagnosisReport = {
  schemaVersion: 1,
  title: 'desk (simulated)',
  range: { fromHz: 55, toHz: 16000 },
  findings: [
    {
      kind: 'peak',
      frequencyHz: 118,
      levelDb: 4.4,
      widthOctaves: 0.6,
      verdict: 'equalize',
      cause: { type: 'unknown' },
      confidence: 0.5,
      evidence: ['It is 0.6 octave wide.'],
    },
    {
      kind: 'dip',
      frequencyHz: 297,
      levelDb: -6.2,
      widthOctaves: 0.4,
      verdict: 'move',
      cause: { type: 'reflection', surface: 'wall behind\u001b[31m', predictedHz: 295.9 },
      confidence: 0.9,
      evidence: ['The wall is 29 cm away. '.repeat(8).trim()],
      advice: 'Pull the speaker 10 cm forward.',
      zone: { fromHz: 250, toHz: 340 },
    },
  ],
  warnings: [{ code: 'range-cut-by-data', message: 'The data end early.' }],
};

describe('diagnosisText', () => {
  const text = diagnosisText(report);

  test('sums up first, then shows what wants moving before what an equalizer mends', () => {
    const [title, summary] = text.split('\n');
    expect(title).toBe('desk (simulated)');
    expect(summary).toBe(
      'From 55 Hz to 16 kHz: 1 to mend by moving, 1 by an equalizer, 0 better left alone.',
    );
    expect(text.indexOf('Dip at 297 Hz, -6.2 dB, 0.40 octave wide')).toBeGreaterThan(0);
    expect(text.indexOf('Peak at 118 Hz, +4.4 dB')).toBeGreaterThan(text.indexOf('Dip at 297 Hz'));
    expect(text).toContain('What to do: Pull the speaker 10 cm forward.');
    expect(text).toContain('The data end early. [range-cut-by-data]');
  });

  test('keeps within a terminal and lets no control characters through', () => {
    for (const line of text.split('\n')) expect(line.length).toBeLessThanOrEqual(100);
    expect(text).not.toContain('\u001b');
  });

  test('says so when nothing stands out', () => {
    expect(diagnosisText({ ...report, findings: [], warnings: [] })).toBe(
      'desk (simulated)\nNothing stands out from 55 Hz to 16 kHz.\n',
    );
  });
});

describe('diagnosisJson', () => {
  test('gives back what it was given, and refuses what is no diagnosis', () => {
    expect(JSON.parse(diagnosisJson(report))).toEqual(report);
    expect(() => diagnosisJson({ ...report, range: { fromHz: Number.NaN, toHz: 1 } })).toThrow();
  });
});
