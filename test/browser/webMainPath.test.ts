import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { readDesignRequest } from '../../cli/readRequest.js';
import { design } from '../../src/design.js';
import { designJson } from '../../src/export/json/designJson.js';
import type { Design } from '../../src/schema/design.js';
import { servedApp } from './servedApp.js';
import { addFiles, demoFile, handedOver, openApp, settled } from './webApp.js';

const app = servedApp();

const POSITIONS = ['position-1.txt', 'position-2.txt'].map(demoFile);
const SETUP = demoFile('setup.json');

const made = new Map<string, Design>();

/** What the command line makes of the same files, their names as the page has them. */
function byCommandLine(flags: Readonly<Record<string, unknown>> = {}): Design {
  const key = JSON.stringify(flags);
  if (!made.has(key)) made.set(key, designed(flags));
  return made.get(key)!;
}

function designed(flags: Readonly<Record<string, unknown>>): Design {
  const request = readDesignRequest(POSITIONS, { setup: SETUP, ...flags });
  const named = request.measurements.map((each) => ({
    ...each,
    fileName: each.fileName.replace(/^.*\//, ''),
  }));
  return JSON.parse(designJson(design({ ...request, measurements: named, againstBands: true }))) as Design;
}

/** Where two documents differ by more than 1e-9, by path. */
function differences(a: unknown, b: unknown, path = ''): string[] {
  if (typeof a === 'number' && typeof b === 'number')
    return Math.abs(a - b) <= 1e-9 ? [] : [`${path}: ${a} ≠ ${b}`];
  if (typeof a === 'object' && typeof b === 'object' && a !== null && b !== null) {
    const keys = new Set([...Object.keys(a), ...Object.keys(b)]);
    return [...keys].flatMap((key) =>
      differences((a as Record<string, unknown>)[key], (b as Record<string, unknown>)[key], `${path}.${key}`),
    );
  }
  return a === b ? [] : [`${path}: ${JSON.stringify(a)} ≠ ${JSON.stringify(b)}`];
}

const saveDesign = (page: Page) =>
  handedOver(page, () => page.getByRole('button', { name: 'design.json' }).click());

const gainOf = (page: Page, letter: string) => page.getByLabel(`Gain of filter ${letter}`);

test('by mouse: files in, findings, fit, a filter pulled, the rest refitted, and the design out, as the command line makes it', async () => {
  const { page, strangers, complaints } = await openApp(app.browser, app.address, { plotting: true });
  await addFiles(page, [...POSITIONS, SETUP]);
  await page.locator('.files li').nth(2).waitFor();
  await settled(page);
  expect(await page.locator('.files li').count()).toBe(3);
  expect(await page.locator('.files select').last().inputValue()).toBe('setup');

  // What the page hands over before anything is touched is what the command line makes.
  const untouched = JSON.parse(await saveDesign(page)) as Design;
  const expected = byCommandLine();
  expect(differences(untouched, expected)).toEqual([]);
  expect(await page.locator('.finding').count()).toBe(expected.findings.length);
  expect(await page.locator('.finding-mark').count()).toBe(expected.findings.length);

  // A finding picked on the chart opens in the list, and the other way round.
  await page.locator('.finding-mark').first().click();
  await page.locator('.finding.chosen .finding-body').waitFor();
  await page.locator('.finding-head[aria-expanded="true"]').click();
  expect(await page.locator('.finding-mark.chosen').count()).toBe(0);

  // Pulled 30 pixels up, the filter's gain follows, and its curve and the conclusion with it.
  const before = Number(await gainOf(page, 'A').inputValue());
  const conclusion = await page.locator('#conclusion').textContent();
  const sum = await page.locator('.curve-sum').getAttribute('d');
  const pennant = page.locator('.pennant').first();
  await pennant.scrollIntoViewIfNeeded();
  const box = (await pennant.boundingBox())!;
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await page.mouse.down();
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2 - 30, { steps: 5 });
  await page.mouse.up();
  const pulled = Number(await gainOf(page, 'A').inputValue());
  expect(pulled).toBeGreaterThan(before + 1);
  expect(await page.locator('.curve-sum').getAttribute('d')).not.toBe(sum);
  expect(await page.locator('#conclusion').textContent()).not.toBe(conclusion);
  expect(await page.getByLabel('Hold filter A').isChecked()).toBe(true);

  // The rest is refitted around it: it stays, the others make up for it.
  const worse = JSON.parse(await saveDesign(page)) as Design;
  await page.getByRole('button', { name: 'Refit the rest' }).click();
  await settled(page);
  const refitted = JSON.parse(await saveDesign(page)) as Design;
  expect(refitted.filters.some(({ gainDb }) => Math.abs(gainDb - pulled) < 1e-9)).toBe(true);
  expect(refitted.error.afterRmsDb).toBeLessThan(worse.error.afterRmsDb);

  // All of it can be undone, the refit and the pull, to the fit's own filters.
  await page.getByRole('button', { name: 'Undo' }).click();
  expect(Number(await gainOf(page, 'A').inputValue())).toBe(pulled);
  await page.getByRole('button', { name: 'Undo' }).click();
  await settled(page);
  expect(differences(JSON.parse(await saveDesign(page)), untouched)).toEqual([]);
  expect(strangers).toEqual([]);
  expect(complaints).toEqual([]);
  await page.context().close();
});

/** Presses Tab until what has the focus answers to `selector`. */
async function tabTo(page: Page, selector: string, most = 160): Promise<void> {
  for (let i = 0; i < most; i++) {
    if (await page.evaluate((wanted) => document.activeElement?.matches(wanted) ?? false, selector)) return;
    await page.keyboard.press('Tab');
  }
  throw new Error(`${selector} is not reached within ${most} steps`);
}

test('by keyboard alone: the same way from the files to the design, with limits as the command line knows them', async () => {
  const { page, complaints } = await openApp(app.browser, app.address);
  // A browser opens a choice of files only within seconds of the key, so the page has to be free to take it.
  await settled(page);
  await tabTo(page, '.dropzone button');
  const choosing = page.waitForEvent('filechooser');
  // Listening begins with a message to the browser; the answer to a later one says that it has got there.
  await page.evaluate(() => 0);
  await page.keyboard.press('Enter');
  const chooser = await choosing;
  await chooser.setFiles([...POSITIONS, SETUP]);
  await page.waitForFunction(() => document.querySelectorAll('.files li').length === 3);
  await settled(page);

  // A finding is opened; its mark on the chart says so.
  await tabTo(page, '.finding-head');
  await page.keyboard.press('Enter');
  await page.locator('.finding.chosen').waitFor();
  expect(await page.locator('.finding-mark.chosen').count()).toBe(1);

  // Fewer bands are asked for, which refits at once.
  await tabTo(page, '#option-bands');
  await page.keyboard.type('4');
  await page.keyboard.press('Enter');
  await page.waitForFunction(() => document.querySelectorAll('.filters tbody tr').length <= 4);
  await settled(page);
  await tabTo(page, '.handed button');
  const saved = await handedOver(page, () => page.keyboard.press('Enter'));
  expect(differences(JSON.parse(saved), byCommandLine({ bands: '4' }))).toEqual([]);

  // A filter is nudged on the chart: a sixth of an octave up and a dB down.
  await page.keyboard.press('Control+Home');
  await page.evaluate(() => (document.activeElement as HTMLElement).blur());
  await tabTo(page, '.pennant');
  const hz = Number(await page.getByLabel('Frequency of filter A').inputValue());
  const db = Number(await gainOf(page, 'A').inputValue());
  await page.keyboard.press('Shift+ArrowRight');
  await page.keyboard.press('Shift+ArrowDown');
  expect(Number(await page.getByLabel('Frequency of filter A').inputValue())).toBeCloseTo(
    hz * 2 ** (1 / 6),
    0,
  );
  expect(Number(await gainOf(page, 'A').inputValue())).toBeCloseTo(db - 1, 6);
  await tabTo(page, '.handed button');
  const nudged = JSON.parse(await handedOver(page, () => page.keyboard.press('Enter'))) as Design;
  expect(nudged.filters[0]!.gainDb).toBeCloseTo(byCommandLine({ bands: '4' }).filters[0]!.gainDb - 1, 9);
  expect(nudged.fit.stopReason).toBe('changed by hand');

  // Undo and redo go by the keyboard too.
  await page.keyboard.press('Control+z');
  await page.keyboard.press('Control+z');
  expect(Number(await gainOf(page, 'A').inputValue())).toBeCloseTo(db, 6);
  await page.keyboard.press('Control+Shift+z');
  await page.keyboard.press('Control+Shift+z');
  expect(Number(await gainOf(page, 'A').inputValue())).toBeCloseTo(db - 1, 6);
  expect(complaints).toEqual([]);
  await page.context().close();
});

test('a verdict given by hand makes the fit follow, and goes with the project', async () => {
  const { page } = await openApp(app.browser, app.address);
  const zones = () => page.locator('.zone-tab').count();
  const before = await zones();
  await page.locator('.finding.move .finding-head').first().click();
  await page.getByLabel('Your verdict').selectOption('equalize');
  await page.waitForFunction((count) => document.querySelectorAll('.zone-tab').length === count - 1, before);
  await page.getByLabel('Why', { exact: true }).fill('the wall will be treated');
  await page.getByLabel('Why', { exact: true }).press('Enter');
  await settled(page);
  const saved = JSON.parse(await saveDesign(page)) as Design;
  expect(saved.findings.flatMap(({ evidence }) => evidence).join(' ')).toContain('the wall will be treated');
  await page.locator('.menu summary').click();
  const project = await handedOver(page, () => page.getByRole('button', { name: 'Save as a file' }).click());
  expect(JSON.parse(project).overrules).toMatchObject([
    { verdict: 'equalize', note: 'the wall will be treated' },
  ]);
  await page.context().close();
});

test('the files that are handed over are those of the command line', async () => {
  const { page, complaints } = await openApp(app.browser, app.address, { plotting: true });
  await settled(page);
  const saved = async (name: string) => handedOver(page, () => page.getByRole('button', { name }).click());
  const made = JSON.parse(await saved('design.json')) as Design;
  expect(await saved('filters.csv')).toContain(String(made.filters[0]!.frequencyHz));
  const report = await saved('report.html');
  expect(report).toContain('Plotly');
  expect(report).toContain('(simulated)');
  await page.getByText('Other forms').click();
  await page.getByLabel('Form', { exact: true }).selectOption('c-header');
  expect(
    await handedOver(page, () => page.getByRole('button', { name: 'Save in this form' }).click()),
  ).toMatch(/#ifndef|#pragma|const/);
  await page.waitForSelector('.plot[data-drawn]');
  const svg = await saved('Save SVG');
  expect(svg).toMatch(/^<svg/);
  expect(svg).toContain(made.title);
  expect(svg).toMatch(/simulated/);
  expect(svg).not.toMatch(/Mask|There,|trace \d/);
  const words = (of: string) => [...of.matchAll(/<text[^>]*>([^<]+)</g)].map(([, text]) => text);
  const numbers = made.findings.map((_, i) => String(i + 1));
  expect(words(svg)).toEqual(expect.arrayContaining(numbers));

  await page.getByRole('button', { name: 'Hold it against a tolerance mask' }).click();
  const handle = page.locator('.placement [role="slider"]').first();
  await handle.focus();
  await page.keyboard.press('Shift+ArrowDown');
  await page.waitForSelector('.curve-what-if-after');
  const all = words(await saved('Save SVG'));
  for (const name of ['Mask', 'There, without filters', 'There, with filters']) expect(all).toContain(name);
  expect(words(svg).join(' ')).toContain('Shaded: left alone.');
  expect(complaints).toEqual([]);
  await page.context().close();
});

test('the speaker moved on the plan shows what would be there, and an equalizer that is chosen bounds the filters', async () => {
  const { page, complaints } = await openApp(app.browser, app.address);
  await settled(page);
  const handle = page.locator('.placement [role="slider"]').first();
  await handle.focus();
  await page.keyboard.press('Shift+ArrowDown');
  await page.keyboard.press('Shift+ArrowDown');
  await page.waitForSelector('.curve-what-if');
  await page.waitForSelector('.curve-what-if-after');
  await page.locator('.placement-what-if').getByText('Dips that only moving mends').waitFor();
  // What was measured stays as it was, and so does the design.
  const untouched = JSON.parse(await saveDesign(page)) as Design;
  expect(untouched.findings.some(({ cause }) => cause.surface === 'wall behind')).toBe(true);
  await page.getByRole('button', { name: 'Put it back where it was measured' }).click();
  await page.waitForFunction(() => document.querySelector('.curve-what-if') === null);

  await page.getByLabel('They are for').selectOption('five-band-48k');
  await settled(page);
  const bound = JSON.parse(await saveDesign(page)) as Design;
  expect(bound.device?.name).toBe('five-band-48k');
  expect(bound.filters.length).toBeLessThanOrEqual(7);
  expect(bound.filters.every(({ gainDb }) => Number.isInteger(gainDb * 2))).toBe(true);
  expect(complaints).toEqual([]);
  await page.context().close();
});
