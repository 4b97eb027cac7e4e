import { expect, test } from 'vitest';
import { conclusion } from '../../../src/export/words/conclusion.js';
import { withFilters } from '../../../src/pipeline/withFilters.js';
import type { Design } from '../../../src/schema/design.js';
import { sampleDesign } from '../sampleDesign.js';

const figures = (beforeRmsDb: number, afterRmsDb: number) => ({
  beforeRmsDb,
  afterRmsDb,
  beforeMaxDb: 9,
  afterMaxDb: 3,
});
const withMoves = (count: number, confidence = 0.9): Design => {
  const design = sampleDesign();
  const move = design.findings.find((finding) => finding.verdict === 'move')!;
  return {
    ...design,
    findings: Array.from({ length: count }, (_, i) => ({ ...move, frequencyHz: 200 * (i + 1), confidence })),
  };
};

test('it is one to three sentences with the figures of the design', () => {
  const text = conclusion({ ...sampleDesign(), error: figures(3.94, 0.81), inputGainDb: -2.85 });
  expect(text).toContain(
    '7 filters bring the unevenness down from 2.9 to 0.8 dB RMS between 55 Hz and 16 kHz',
  );
  expect(text).toContain('an input gain of -2.85 dB');
  expect(text.split(/\. |\.$/).filter(Boolean)).toHaveLength(3);
});

test('it claims no improvement where there is none', () => {
  const text = conclusion({ ...sampleDesign(), unevenness: figures(1, 1.4) });
  expect(text).toContain('do not lower the unevenness, which goes from 1.0 to 1.4 dB');
  expect(text).not.toContain('bring the unevenness down');
});

test('without filters it says so', () => {
  const text = conclusion({
    ...sampleDesign(),
    filters: [],
    inputGainDb: 0,
    unevenness: figures(0.21, 0.21),
    zones: [],
  });
  expect(text).toContain('No filter is used');
  expect(text).toContain('its unevenness is 0.2 dB RMS');
  expect(text).not.toContain('input gain');
  expect(text).not.toContain('left alone');
});

test('filters that somebody took out are not said to have been of no use', () => {
  const design = sampleDesign();
  const text = conclusion({
    ...design,
    filters: [],
    fit: { ...design.fit, stopReason: withFilters(design, []).fit.stopReason },
  });
  expect(text).toContain('No filter is used: they were taken out by hand; the unevenness is');
});

test('it names up to three features that want moving, then counts them', () => {
  expect(conclusion(withMoves(0))).not.toContain("don't boost");
  expect(conclusion(withMoves(1))).toContain('The dip at 200 Hz comes from');
  expect(conclusion(withMoves(3))).toContain('The dips at 200 Hz, 400 Hz and 600 Hz come from');
  expect(conclusion(withMoves(5))).toContain('5 features between 200 Hz and 1 kHz come from');
});

test('an uncertain cause is called probable', () => {
  expect(conclusion(withMoves(1, 0.75))).toContain('probably comes from');
  expect(conclusion(withMoves(1, 0.9))).not.toContain('probably');
});

test('one filter takes the singular', () => {
  const design = sampleDesign();
  expect(conclusion({ ...design, filters: design.filters.slice(0, 1) })).toContain(
    'One filter brings the unevenness down',
  );
});
