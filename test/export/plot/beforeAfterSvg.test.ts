import { expect, test } from 'vitest';
import { beforeAfterSvg } from '../../../src/export/plot/beforeAfterSvg.js';
import { hostileDesign } from '../hostileDesign.js';
import { sampleDesign } from '../sampleDesign.js';

const texts = (svg: string) => [...svg.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map((match) => match[1]!);

test('the same design gives the same bytes, in a file that is not large', () => {
  expect(beforeAfterSvg(sampleDesign())).toBe(beforeAfterSvg(sampleDesign()));
  expect(beforeAfterSvg(sampleDesign()).length).toBeLessThan(80_000);
});

test('every drawing coordinate has at most one decimal', () => {
  const svg = beforeAfterSvg(sampleDesign());
  const coordinates = [...svg.matchAll(/ (?:d|x|y|x1|x2|y1|y2|cx|cy|width|height|transform)="([^"]*)"/g)];
  expect(coordinates.length).toBeGreaterThan(100);
  for (const [, value] of coordinates) expect(value).not.toMatch(/\.\d\d|NaN|Infinity|undefined/);
});

test('the axes are labelled at the usual frequencies and in dB', () => {
  const shown = texts(beforeAfterSvg(sampleDesign()));
  for (const label of [
    '20',
    '50',
    '100',
    '200',
    '500',
    '1k',
    '2k',
    '5k',
    '10k',
    '20k',
    'Level (dB)',
    'EQ (dB)',
  ]) {
    expect(shown).toContain(label);
  }
  expect(shown.some((text) => text.startsWith('Frequency (Hz)'))).toBe(true);
});

test('it has a title and a description in words for those who cannot see it', () => {
  const svg = beforeAfterSvg(sampleDesign());
  expect(svg).toMatch(/role="img" aria-labelledby="plot-title plot-description"/);
  expect(svg).toContain('<title id="plot-title">Before and after: Left desk speaker, simulated</title>');
  expect(svg).toMatch(/<desc id="plot-description">[^<]*dip at 297.Hz, move, don't boost \(wall behind\)/);
});

test('each protected span is hatched in both panels and labelled in words', () => {
  const design = sampleDesign();
  const svg = beforeAfterSvg(design);
  expect(svg.match(/fill="url\(#left-alone\)"/g)).toHaveLength(2 * design.zones.length);
  expect(texts(svg).filter((text) => text === 'left alone')).toHaveLength(design.zones.length);
  expect(beforeAfterSvg({ ...design, zones: [] })).not.toContain('fill="url(#left-alone)"');
});

test('every finding inside the axis has its mark and its line in the key', () => {
  const design = sampleDesign();
  const shown = texts(beforeAfterSvg(design));
  design.findings.forEach((_, i) => {
    // The number stands once at the curve and once in the key.
    expect(shown.filter((text) => text === String(i + 1)).length).toBeGreaterThanOrEqual(2);
  });
  expect(shown.filter((text) => /^(peak|dip) at /.test(text))).toHaveLength(design.findings.length);
});

test('a long list of findings is cut in the key and says how many more there are', () => {
  const design = sampleDesign();
  const findings = Array.from({ length: 40 }, (_, i) => ({
    ...design.findings[0]!,
    frequencyHz: 60 * 1.15 ** i,
  }));
  expect(texts(beforeAfterSvg({ ...design, findings }))).toContain('and 24 more, in the report');
});

test('text from files is escaped and cannot add an element', () => {
  const elements = (svg: string) => new Set([...svg.matchAll(/<([a-zA-Z]+)/g)].map((match) => match[1]!));
  const hostile = beforeAfterSvg(hostileDesign());
  expect(elements(hostile)).toEqual(elements(beforeAfterSvg(sampleDesign())));
  expect(hostile).toContain('&lt;img src=x');
  expect(hostile).not.toMatch(/[^\P{Cc}\n]|\p{Surrogate}/u);
});

test('a design without findings, zones, filters and with curves that end early is drawn too', () => {
  const design = sampleDesign();
  const cut = (values: readonly number[]) => values.slice(100, 300);
  const { frequencyHz, measuredDb, smoothedDb, targetDb, eqDb } = design.curves;
  const svg = beforeAfterSvg({
    ...design,
    findings: [],
    zones: [],
    filters: [],
    curves: {
      frequencyHz: cut(frequencyHz),
      measuredDb: cut(measuredDb),
      smoothedDb: cut(smoothedDb),
      targetDb: cut(targetDb),
      eqDb: cut(eqDb).map(() => 0),
    },
  });
  expect(svg).not.toMatch(/NaN|Infinity|undefined/);
});

test('the curves differ by width or dash as well as by colour', () => {
  const svg = beforeAfterSvg(sampleDesign());
  const legend = [
    ...svg.matchAll(
      /<line[^>]*stroke="(#[0-9a-f]+)"[^>]*stroke-width="([\d.]+)"(?: stroke-dasharray="([^"]*)")?[^>]*><\/line><text[^>]*>(?:Measured|Smoothed|Target|Expected)/g,
    ),
  ];
  const looks = legend.map(([, , width, dash]) => `${width} ${dash ?? ''}`);
  expect(looks).toHaveLength(4);
  expect(new Set(looks).size).toBe(4);
});
