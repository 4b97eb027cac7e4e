import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { BOOST, boostCurves } from '../../docs/make/boostPicture.js';
import { delayCurves, LATER_S, WEAKER } from '../../docs/make/delayPicture.js';
import { exampleFolder, pageRunner } from '../../docs/make/exampleFolder.js';
import { makeDocs } from '../../docs/make/makeDocs.js';
import { differenceOf } from '../../docs/make/sameButForDigits.js';
import { combBottomDb, combTopDb } from '../../src/acoustics/combLevels.js';
import { cancellationsHz, pathDifferenceM } from '../../src/acoustics/imageSource.js';
import { speedOfSound } from '../../src/acoustics/speedOfSound.js';
import { manyRuns } from './manyRuns.js';

const root = fileURLToPath(new URL('../../', import.meta.url));
const read = (path: string) => readFileSync(join(root, path), 'utf8');
const pictures = readdirSync(join(root, 'docs/pictures'));
const REFRESH = 'run `npm run docs:refresh`, look at what changed, and commit it';

describe('the pages in docs/', () => {
  const { folder, remove } = exampleFolder(root);
  const runs = manyRuns();
  let made: Map<string, string>;
  beforeAll(async () => {
    const run = pageRunner(folder, async (args) => {
      const { code, stdout, stderr } = await runs.run(args, { cwd: folder });
      if (code !== 0) throw new Error(`nullwise ${args.join(' ')}: ${stderr}`);
      return stdout;
    });
    made = await makeDocs(root, folder, run);
  }, 300_000);
  afterAll(() => {
    runs.end();
    remove();
  });

  test('show what their commands print now', () => {
    for (const [path, text] of made) {
      if (path.endsWith('.md'))
        expect(differenceOf(read(path), text, 2), `${path}: ${REFRESH}`).toBeUndefined();
    }
  });

  test('have the pictures that the program draws now, to two units of the drawing', () => {
    const drawn = [...made.keys()].filter((path) => path.endsWith('.svg'));
    expect(drawn.map((path) => path.replace('docs/pictures/', '')).sort()).toEqual([...pictures].sort());
    for (const path of drawn) {
      expect(differenceOf(read(path), made.get(path)!, 20), `${path}: ${REFRESH}`).toBeUndefined();
    }
  });
});

test.each(pictures)('%s is small and marked as simulated', (name) => {
  const svg = read(`docs/pictures/${name}`);
  expect(svg.length).toBeLessThan(100_000);
  expect(svg).toMatch(/<text[^>]*>[^<]*simulated/);
});

test('the image source arithmetic on the page is right', () => {
  const page = read('docs/what-eq-cannot-fix.md');
  const plane = { r: 1, hs: 0.26, hm: 1.255 };
  const c = speedOfSound(21);
  const differenceM = pathDifferenceM(plane);
  expect(page).toContain(`= ${(differenceM + 1).toFixed(3)} m`);
  expect(page).toContain(`${differenceM.toFixed(3)} m more`);
  expect(page).toContain(`${c.toFixed(1)} m/s at 21 °C`);
  expect(page).toContain(`= ${cancellationsHz(differenceM, 500, c)[0]!.toFixed(0)} Hz`);
});

test('the table of reflections on the page holds', () => {
  const rows = [
    ...read('docs/what-eq-cannot-fix.md').matchAll(
      /^\| (0\.\d) \| −(.*) dB \| \+(.*) dB \| (.*) Pa \| (\d+) times \|$/gm,
    ),
  ];
  expect(rows).toHaveLength(4);
  for (const [, rho, bottom, top, arrives, power] of rows.map((row) => row.map(Number))) {
    expect(bottom).toBeCloseTo(-combBottomDb(rho!), 1);
    expect(top).toBeCloseTo(combTopDb(rho!), 1);
    expect(arrives).toBeCloseTo(1 - rho!, 6);
    expect(power).toBe(Math.round((1 - rho!) ** -2));
  }
});

test('the levels at the boosted dip are those of the picture', () => {
  const page = read('docs/what-eq-cannot-fix.md').replaceAll('−', '-').replace(/\s+/g, ' ');
  const { frequencyHz, here, direct, away } = boostCurves();
  const at = frequencyHz.findIndex((hz) => hz >= BOOST.frequencyHz);
  const number = '(-?[\\d.]+)';
  for (const [words, curves] of [
    [`the level goes from ${number} to ${number} dB`, here],
    [`nothing wrong with it, from ${number} to ${number} dB`, direct],
    [`the boost lifts ${number} to ${number} dB`, away],
  ] as const) {
    const [, before, after] = new RegExp(words).exec(page)?.map(Number) ?? [];
    expect(Math.abs(before! - curves.before[at]!), words).toBeLessThan(0.11);
    expect(Math.abs(after! - curves.after[at]!), words).toBeLessThan(0.11);
  }
});

test('the excess group delay of the picture follows the closed form of two taps', () => {
  const { frequencyHz, levelDb, otherLevelDb, strongerS, weakerS } = delayCurves();
  const bottomS = (LATER_S * (1 + WEAKER)) / (1 - WEAKER);
  expect(read('docs/what-eq-cannot-fix.md')).toContain(
    `= ${(1000 * bottomS).toFixed(1)} ms for a delay τ of ${1000 * LATER_S} ms`,
  );
  for (const [i, hz] of frequencyHz.entries()) {
    expect(otherLevelDb[i]!).toBeCloseTo(levelDb[i]!, 9);
    // Away from the ends, where the minimum phase has to be extrapolated, and below where the dips outrun the grid.
    if (hz < 200 || hz > 900) continue;
    const w = 2 * Math.PI * hz * LATER_S;
    const closedS = (LATER_S * (1 - WEAKER ** 2)) / (1 + 2 * WEAKER * Math.cos(w) + WEAKER ** 2);
    // The pure delay is taken off beforehand: that between the dips, τ(1 − a)/(1 + a).
    expect(Math.abs(strongerS[i]! - closedS + (LATER_S * (1 - WEAKER)) / (1 + WEAKER))).toBeLessThan(
      0.04 * closedS + 2e-4,
    );
    expect(Math.abs(weakerS[i]!)).toBeLessThan(3e-4);
  }
});

test('every link to a file leads to one', () => {
  for (const page of [
    'README.md',
    'DEVELOPERS.md',
    ...readdirSync(join(root, 'docs'))
      .filter((n) => n.endsWith('.md'))
      .map((n) => `docs/${n}`),
  ]) {
    for (const [, link] of read(page).matchAll(/\]\((?!https?:|#)([^)#]+)[^)]*\)/g)) {
      expect(existsSync(join(root, dirname(page), link!)), `${page}: ${link}`).toBe(true);
    }
  }
});
