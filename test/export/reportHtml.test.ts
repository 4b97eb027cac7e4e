import { expect, test } from 'vitest';
import { reportHtml } from '../../src/export/reportHtml.js';
import { conclusion } from '../../src/export/words/conclusion.js';
import type { Design } from '../../src/schema/design.js';
import { hostileDesign } from './hostileDesign.js';
import { sampleDesign } from './sampleDesign.js';

const plotlySource = 'var Plotly = { react: () => Promise.resolve() };';
const report = (design: Design) => reportHtml(design, { plotlySource, generatedBy: 'Nullwise 1.2.3' });

/** The page's text as a reader sees it: elements, style, script and drawing taken out, entities and blanks undone. */
function textOf(html: string): string {
  return html
    .replace(/<(style|script|svg)[\s\S]*?<\/\1>/g, ' ')
    .replace(/<[^>]*>/g, ' ')
    .replace(/&lt;/g, '<')
    .replace(/&quot;/g, '"')
    .replace(/&amp;/g, '&')
    .replace(/\u2212/g, '-')
    .replace(/[\s\u00a0]+/g, ' ');
}

test('the conclusion stands on top, in the words of the design', () => {
  const text = textOf(report(sampleDesign()));
  const place = text.indexOf(conclusion(sampleDesign()));
  expect(place).toBeGreaterThan(0);
  expect(place).toBeLessThan(text.indexOf('Before and after'));
});

test('the figures of the conclusion are those of the tables below it', () => {
  const design = {
    ...sampleDesign(),
    unevenness: { beforeRmsDb: 4.14, afterRmsDb: 1.13 },
    error: { beforeRmsDb: 4.44, afterRmsDb: 1.23, beforeMaxDb: 11.1, afterMaxDb: 3.21 },
    inputGainDb: -5.55,
  };
  const text = textOf(report(design));
  expect(text).toContain('down from 4.1 to 1.1 dB RMS');
  expect(text).toContain('Unevenness, RMS 4.1 → 1.1 dB');
  expect(text).toMatch(
    /RMS, each about its own mean level 4\.1 1\.1 RMS about the target’s level 4\.4 1\.2 Greatest error about the target’s level 11\.1 3\.2/,
  );
  expect(text).toContain('input gain of -5.55 dB');
  expect(text).toContain('Input gain -5.55 dB Sample rate');
});

test('the bands allowed are those of the device, above as below', () => {
  const design = sampleDesign();
  const { maxBoostDb, maxCutDb, minQ, maxQ } = design.limits;
  const withDevice = { bands: 7, maxBoostDb, maxCutDb, minQ, maxQ };
  const text = textOf(report({ ...design, limits: { ...design.limits, withDevice } }));
  expect(text).toContain('Bands 7 of 7 ');
  expect(text).toContain('Bands at most 7 (the equalizer; 8 asked for) 7 ');
});

test('each finding says what, where, how sure, why and what to do', () => {
  const text = textOf(report(sampleDesign()));
  const start = text.indexOf('1 Dip at 297 Hz Move, do not boost');
  const card = text.slice(start, text.indexOf('2 Dip at 1.66 kHz'));
  expect(card).toMatch(
    /What -5\.2 dB .*"wall behind".*Where 259 Hz to 341 Hz .*How sure Very likely \(90 %\)/,
  );
  expect(card).toMatch(/Why The wall behind is 29 cm .*What to do Move the speaker 16 cm/);
  for (const finding of sampleDesign().findings)
    for (const sentence of finding.evidence) expect(text).toContain(sentence);
});

test('all filters, limits, warnings and cautions are there', () => {
  const text = textOf(report(sampleDesign()));
  for (const part of [
    '1 Peaking 63.6 -6.70 4.374',
    '7 High shelf 8226.2 -1.45 0.784',
    'How to enter them',
    'What EQ cannot mend',
    'Bands at most 8 7',
    'Q 0.4 to 10 0.784 to 4.37',
    'null-not-boosted',
    'double the power',
    'stays closed',
    'local codes',
    "The maker's ratings decide",
    'Made by Nullwise 1.2.3.',
  ]) {
    expect(text).toContain(part);
  }
});

test('several nulls that are not boosted make one warning, so that the others are seen', () => {
  const design = sampleDesign();
  const nulls = [190, 310, 590].map((hz) => ({
    code: 'null-not-boosted',
    message: `The dip at ${hz} Hz is not boosted. Move the speaker.`,
    frequencyHz: hz,
  }));
  const caution = { code: 'bass-boost', message: 'The EQ boosts the bass.' };
  const told = textOf(report({ ...design, warnings: [...nulls, caution] }));
  expect(told).toMatch(/3 dips are not boosted.*stands above, under "What EQ cannot mend"/);
  expect(told.match(/null-not-boosted/g)).toHaveLength(1);
  expect(told).not.toContain('is not boosted. Move');
  expect(told).toContain('The EQ boosts the bass.');
  expect(textOf(report({ ...design, warnings: nulls.slice(0, 1) }))).toContain(
    'The dip at 190 Hz is not boosted.',
  );
});

test('simulated data are marked, measured data are not', () => {
  const design = sampleDesign();
  expect(textOf(report(design))).toContain('Simulated data, not a measurement');
  const measured = { ...design, title: 'Left speaker', warnings: [] };
  expect(textOf(report(measured))).not.toContain('Simulated data');
  expect(textOf(report({ ...measured, warnings: design.warnings }))).toContain('Simulated data');
});

test('a design with nothing in it makes a page that says so', () => {
  const text = textOf(
    report({
      ...sampleDesign(),
      filters: [],
      findings: [],
      warnings: [],
      zones: [],
      inputGainDb: 0,
      title: '',
    }),
  );
  expect(text).toContain('No filters: leave the equalizer flat.');
  expect(text).toContain('No peak or dip stands out');
  expect(text).toContain('Warnings None.');
});

test('the page is the same bytes for the same design', () => {
  expect(report(sampleDesign())).toBe(report(sampleDesign()));
});

test('the policy allows no source but the two scripts of the page', () => {
  const policy = report(sampleDesign()).match(/Content-Security-Policy" content="([^"]*)"/)![1]!;
  expect(policy).toMatch(
    /^default-src 'none'; script-src 'sha256-[\w+/]{43}=' 'sha256-[\w+/]{43}='; style-src/,
  );
  expect(policy).not.toMatch(/script-src[^;]*unsafe|https?:|\*/);
});

test('text from files adds no element anywhere', () => {
  const elements = (html: string) => {
    const counts = new Map<string, number>();
    for (const [, name] of html.matchAll(/<([a-zA-Z]\w*)/g)) counts.set(name!, (counts.get(name!) ?? 0) + 1);
    return counts;
  };
  const hostile = elements(report(hostileDesign()));
  expect(hostile.has('img')).toBe(false);
  expect(hostile.get('script')).toBe(3);
});

test('no text from files goes into the data of the plot', () => {
  const html = report(hostileDesign());
  const data = html.match(/id="plot-data"[^>]*>([^<]*)<\/script>/)![1]!;
  expect(data).not.toContain('onerror');
  expect(JSON.parse(data).data.length).toBeGreaterThan(5);
});
