import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { curveStyles } from '../../src/export/plot/plotStyle.js';
import type { Design } from '../../src/schema/design.js';
import { cookbookLevelDb, denseHz } from '../fit/independentCheck.js';
import { curveText } from './curveText.js';
import { manyRuns } from './manyRuns.js';
import { readPlot } from './readPlot.js';
import { workFolder } from './workFolder.js';

const { run: nullwise, end } = manyRuns();
afterAll(end);

/** Fewer bands and less boost than are asked for by default. */
const BOX = JSON.stringify({
  name: 'box',
  sampleRatesHz: [44100],
  bands: [{ types: ['peaking'], count: 3 }],
  gainDb: { min: -12, max: 3, step: 0.5 },
  frequencyHz: { min: 20, max: 20000, perOctave: 3 },
  q: { min: 0.1, max: 4, step: 0.1 },
});
const work = workFolder({ 'hump.txt': curveText(), 'box.json': BOX });
afterAll(work.remove);
const demo = (name: string) => fileURLToPath(new URL(`../../fixtures/demo/${name}`, import.meta.url));

const TYPES = { peaking: 'Peaking', lowShelf: 'Low shelf', highShelf: 'High shelf' };
const rms = (values: readonly number[], weights: readonly number[]) => {
  const total = weights.reduce((sum, w) => sum + w, 0);
  return Math.sqrt(values.reduce((sum, v, i) => sum + weights[i]! * v * v, 0) / total);
};

/** Text as a reader sees it, blanks made one, the sign for a minus a hyphen. */
const plain = (text: string) => text.replaceAll('\u2212', '-').replace(/[\s\u00a0]+/g, ' ');
const textOf = (html: string) =>
  plain(
    html
      .replace(/<(style|script|svg)[\s\S]*?<\/\1>/g, ' ')
      .replace(/<[^>]*>/g, ' ')
      .replaceAll('&quot;', '"')
      .replaceAll('&amp;', '&'),
  );

/** Two errors as they are written side by side: one decimal, two where one does not tell them apart. */
function pair(before: number, after: number): [string, string] {
  const decimals = before !== after && before.toFixed(1) === after.toFixed(1) ? 2 : 1;
  return [before.toFixed(decimals), after.toFixed(decimals)];
}

// What design.json promises is reckoned anew from its curves and the cookbook's formulas, and every other file and the
// terminal are held against it.
describe.each([
  ['the demo', [1, 2, 3, 4].map((n) => demo(`position-${n}.txt`)), ['--setup', demo('setup.json')]],
  ['a tilted target', ['hump.txt'], ['--tilt', '-0.5', '--bands', '2', '--smoothing', '1/3']],
  ['a device', ['hump.txt'], ['--device', 'box.json', '--bands', '8', '--bass-shelf', '4']],
])('the outputs of a fit of %s', (_, measurements, options) => {
  let design: Design;
  let summary: string;
  let html: string;
  let page: string;
  let svg: string;
  const file = (name: string) => readFileSync(work.path('out', name), 'utf8');

  beforeAll(async () => {
    const args = ['fit', ...measurements, ...options, '--effort', 'quick', '--out', 'out', '--force'];
    const { code, stdout } = await nullwise(args, { cwd: work.folder });
    expect(code).toBe(0);
    summary = plain(stdout);
    html = file('report.html');
    page = textOf(html);
    svg = file('before-after.svg');
    design = JSON.parse(file('design.json')) as Design;
    expect(design.filters.length).toBeGreaterThan(1);
  });

  test('design.json: the EQ is the sum of its filters, and the input gain makes room for it', () => {
    const { filters, sampleRateHz, curves, eq, inputGainDb, range } = design;
    const level = (hz: number) => cookbookLevelDb(filters, sampleRateHz, hz);
    // Frequencies stand there with five figures.
    curves.frequencyHz.forEach((hz, i) => {
      expect(Math.abs(level(hz) - curves.eqDb[i]!)).toBeLessThan(0.005);
    });
    const greatest = Math.max(0, ...denseHz(sampleRateHz).map(level));
    expect(greatest + inputGainDb).toBeLessThanOrEqual(1e-6);
    expect(greatest + inputGainDb).toBeGreaterThan(-0.02);
    if (greatest > 0.01) expect(Math.abs(greatest - eq.maxDb)).toBeLessThan(0.002);
    const within = denseHz(sampleRateHz, range.fromHz, range.toHz).map(level);
    const ends = (level(range.fromHz) + level(range.toHz)) / 2;
    const mean = (within.reduce((sum, db) => sum + db, 0) - ends) / (within.length - 1);
    expect(Math.abs(mean - eq.meanDb)).toBeLessThan(0.002);
  });

  test('design.json: the errors are those of its curves', () => {
    const { curves, range, zones, error, errorWithZones, unevenness } = design;
    const inRange = curves.frequencyHz.flatMap((hz, i) =>
      hz >= range.fromHz * 0.9999 && hz <= range.toHz * 1.0001 ? [i] : [],
    );
    const octave = inRange.map((i) => Math.log2(curves.frequencyHz[i]!));
    const before = inRange.map((i) => curves.smoothedDb[i]! - curves.targetDb[i]!);
    const after = before.map((db, k) => db + curves.eqDb[inRange[k]!]!);
    const figures = (leftOut: Design['zones']) => {
      const weights = octave.map((x, k) => {
        const hz = 2 ** x;
        if (leftOut.some(({ fromHz, toHz }) => hz >= fromHz * 0.99999 && hz <= toHz * 1.00001)) return 0;
        return ((octave[k + 1] ?? x) - (octave[k - 1] ?? x)) / 2;
      });
      const most = (values: number[]) => Math.max(...values.map((v, k) => (weights[k] ? Math.abs(v) : 0)));
      const total = weights.reduce((sum, w) => sum + w, 0);
      const level = (values: number[]) => {
        const mean = values.reduce((sum, v, k) => sum + weights[k]! * v, 0) / total;
        return rms(
          values.map((v) => v - mean),
          weights,
        );
      };
      return {
        about: [rms(before, weights), rms(after, weights), most(before), most(after)],
        uneven: [level(before), level(after)],
      };
    };
    const close = (own: readonly number[], stated: readonly number[]) =>
      own.forEach((value, i) => {
        expect(Math.abs(value - stated[i]!)).toBeLessThan(0.006);
      });
    const stated = (e: Design['error']) => [e.beforeRmsDb, e.afterRmsDb, e.beforeMaxDb, e.afterMaxDb];
    close(figures(zones).about, stated(error));
    close(figures([]).about, stated(errorWithZones));
    close(figures(zones).uneven, [unevenness.beforeRmsDb, unevenness.afterRmsDb]);
  });

  test('before-after.svg: its lines run where the curves do, by its own axes; the report holds the same drawing', () => {
    const { curves } = design;
    const { curve, tenthDb } = readPlot(svg);
    const expected = curves.smoothedDb.map((db, i) => db + curves.eqDb[i]!);
    for (const [style, values, panel] of [
      [curveStyles.measured, curves.measuredDb, 0],
      [curveStyles.smoothed, curves.smoothedDb, 0],
      [curveStyles.expected, expected, 0],
      [curveStyles.target, curves.targetDb, 0],
      [curveStyles.eq, curves.eqDb, 1],
    ] as const) {
      const drawn = curve(style.color, panel);
      const first = curves.frequencyHz.findIndex((hz) => hz >= Math.min(20, design.range.fromHz));
      expect(drawn.frequencyHz.length).toBeGreaterThan(300);
      drawn.frequencyHz.forEach((hz, i) => {
        expect(Math.abs(Math.log2(hz / curves.frequencyHz[first + i]!))).toBeLessThan(0.003);
        expect(Math.abs(drawn.levelDb[i]! - values[first + i]!)).toBeLessThan(1.5 * tenthDb[panel]);
      });
    }
    expect(html).toContain(svg.slice(svg.indexOf('<title')).trim());
  });

  test('the report: its plot and its table show the curves', () => {
    const { curves } = design;
    const expected = curves.smoothedDb.map((db, i) => db + curves.eqDb[i]!);
    const json = /<script type="application\/json" id="plot-data">(.*?)<\/script>/s.exec(html)![1]!;
    const { data } = JSON.parse(json) as { data: { name: string; x: number[]; y: number[] }[] };
    const nearest = (hz: number) =>
      curves.frequencyHz.reduce((best, f, i) => {
        const nearer = Math.abs(Math.log(f / hz)) < Math.abs(Math.log(curves.frequencyHz[best]! / hz));
        return nearer ? i : best;
      }, 0);
    for (const [name, values] of [
      ['Measured', curves.measuredDb],
      ['Expected with the filters', expected],
      ['Target', curves.targetDb],
      ['Sum of all filters', curves.eqDb],
    ] as const) {
      const { x, y } = data.find((trace) => trace.name === name)!;
      x.forEach((hz, i) => {
        expect(Math.abs(y[i]! - values[nearest(hz)]!)).toBeLessThan(0.0051);
      });
    }
    const start = page.indexOf('Frequency (Hz) Measured Target EQ Expected');
    const cells = /Expected ((?:[+-]?[\d.]+ )+)/.exec(page.slice(start))![1]!.trim().split(' ').map(Number);
    expect(cells.length).toBeGreaterThan(5 * 25);
    expect(cells.length % 5).toBe(0);
    for (let row = 0; row < cells.length; row += 5) {
      const [hz, ...shown] = cells.slice(row, row + 5);
      const third = 1000 * 2 ** (Math.round(3 * Math.log2(hz! / 1000)) / 3);
      const i = nearest(third);
      [curves.smoothedDb, curves.targetDb, curves.eqDb, expected].forEach((values, column) => {
        expect(Math.abs(values[i]! - shown[column]!)).toBeLessThan(0.0501);
      });
    }
  });

  test('the filters are the same in all files, the report and the terminal', () => {
    const { filters, sampleRateHz, inputGainDb } = design;
    const csv = file('filters.csv').trim().split('\r\n').slice(1);
    const { sections } = JSON.parse(file('coefficients.json')) as { sections: { filter: unknown }[] };
    expect(sections.map(({ filter }) => filter)).toEqual(filters);
    const rows = /(\d+) (Peaking|Low shelf|High shelf) ([\d.]+) (-?[\d.]+) ([\d.]+)/g;
    const shown = [summary, plain(file('filters.txt')), page].map((text) => [...text.matchAll(rows)]);
    expect(csv.length).toBe(filters.length);
    filters.forEach(({ type, frequencyHz, gainDb, q }, k) => {
      const [, name, ...numbers] = csv[k]!.split(',');
      expect(name).toBe(TYPES[type]);
      expect(numbers.slice(0, 3).map(Number)).toEqual([frequencyHz, gainDb, q]);
      expect(numbers.slice(-2).map(Number)).toEqual([sampleRateHz, inputGainDb]);
      for (const each of shown) {
        expect(each.length).toBe(filters.length);
        const [, , written, ...rest] = each[k]!;
        expect(written).toBe(TYPES[type]);
        const [hz, db, qShown] = rest.map(Number);
        expect(Math.abs(hz! - frequencyHz)).toBeLessThan(0.0006);
        expect(Math.abs(db! - gainDb)).toBeLessThan(0.0006);
        expect(Math.abs(qShown! - q)).toBeLessThan(0.00006);
      }
    });
    for (const text of [summary, plain(file('filters.txt')), page]) {
      const gain = Number(/Input gain:? (-?[\d.]+) dB/.exec(text)![1]);
      expect(gain).toBe(inputGainDb);
    }
  });

  test('the terminal, the report and the drawing give the figures of design.json', () => {
    const { error, errorWithZones, unevenness, zones, filters, limits, eq } = design;
    const uneven = pair(unevenness.beforeRmsDb, unevenness.afterRmsDb);
    const [about, most] = [
      pair(error.beforeRmsDb, error.afterRmsDb),
      pair(error.beforeMaxDb, error.afterMaxDb),
    ];
    const [all, allMost] = [
      pair(errorWithZones.beforeRmsDb, errorWithZones.afterRmsDb),
      pair(errorWithZones.beforeMaxDb, errorWithZones.afterMaxDb),
    ];
    expect(summary).toContain(`Unevenness: ${uneven[0]} dB RMS before, ${uneven[1]} dB after`);
    expect(summary).toContain(
      `Error: ${about[0]} dB RMS before, ${about[1]} dB after, about the target's level (greatest ${most[0]} and ${most[1]} dB)`,
    );
    const whole = `All of it: ${all[0]} dB RMS before, ${all[1]} dB after, spans left alone counted too (greatest ${allMost[0]} and ${allMost[1]} dB)`;
    expect(summary.includes(whole)).toBe(zones.length > 0);
    expect(page).toContain(
      `own mean level ${uneven.join(' ')} RMS about the target’s level ${about.join(' ')} Greatest error about the target’s level ` +
        `${most.join(' ')} RMS, spans left alone counted too ${all.join(' ')} Greatest, spans left alone counted too ${allMost.join(' ')}`,
    );
    expect(page).toContain(`Unevenness, RMS ${uneven.join(' → ')} dB Greatest error ${most.join(' → ')} dB`);
    expect(plain(svg)).toContain(`Unevenness ${uneven[0]} dB RMS before, ${uneven[1]} dB after`);
    const allowed = limits.withDevice ?? limits;
    expect(summary).toContain(`Bands: ${filters.length} used of ${allowed.bands} allowed`);
    expect(page).toContain(`Bands ${filters.length} of ${allowed.bands} Most boost`);
    const boost = /Most boost: (.*?), of ([\d.]+) dB allowed/.exec(summary)!;
    expect(Number(boost[2])).toBeCloseTo(allowed.maxBoostDb, 1);
    expect(page).toContain(`Most boost ${boost[1]}`);
    expect(page).toContain(`-${limits.maxLevelLossDb.toFixed(1)} dB ${eq.meanDb > 0.05 ? '+' : ''}`);
    expect(Math.abs(Number(/at least -[\d.]+ dB ([+-]?[\d.]+) dB/.exec(page)![1]) - eq.meanDb)).toBeLessThan(
      0.0501,
    );
  });

  test('each finding stands in the report with its frequency and height', () => {
    for (const { kind, frequencyHz, levelDb } of design.findings) {
      const hz = Number(frequencyHz.toPrecision(3));
      const where = hz < 1000 ? `${hz} Hz` : `${Number((hz / 1000).toPrecision(3))} kHz`;
      const height = `${levelDb > 0 ? '+' : ''}${levelDb.toFixed(1)} dB`;
      const name = `${kind === 'dip' ? 'Dip' : 'Peak'} at ${where}`;
      expect(page.slice(page.indexOf(name))).toMatch(
        new RegExp(`^${name} [A-Z][^.]*? What ${height.replace('+', '\\+')} against`),
      );
      expect(plain(svg)).toContain(`${name.toLowerCase().replace('khz', 'kHz').replace(' hz', ' Hz')}, `);
    }
  });
});
