import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { verificationJson } from '../../src/export/json/verificationJson.js';
import { readMeasurement } from '../../src/measurement/readMeasurement.js';
import type { Design } from '../../src/schema/design.js';
import { verifyDesign } from '../../src/verify/verifyDesign.js';
import { impulse } from './inventedImpulse.js';
import { add, curveText, GRID_HZ, given, measured, saved, speakerDb, type } from './inventedSpeaker.js';
import { servedApp } from './servedApp.js';
import { accessibilityFaults, addFiles, handedOver, openApp, settled, sticksOut } from './webApp.js';

const app = servedApp();

const fileNames = (page: Page) => page.locator('.file-name').allTextContents();
const roles = (page: Page) =>
  page.locator('.files select').evaluateAll((all) => (all as HTMLSelectElement[]).map(({ value }) => value));
const verdict = async (page: Page) => {
  await page.locator('.verdict-line').waitFor();
  return (await page.locator('.verdict-line').textContent())!;
};
/** How far words and curves of the check's drawing stand out from its ground (WCAG 2.2, "contrast ratio"). */
const contrasts = (page: Page) =>
  page.locator('.drawn-check svg').evaluate((svg) => {
    const light = (color: string) => {
      const [r, g, b] = color
        .match(/[\d.]+/g)!
        .map((part) => Number(part) / 255)
        .map((part) => (part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4));
      return 0.2126 * r! + 0.7152 * g! + 0.0722 * b! + 0.05;
    };
    const colors = (selector: string, name: 'fill' | 'stroke') =>
      [...svg.querySelectorAll(selector)].map((element) => light(getComputedStyle(element)[name]));
    const [ground] = colors(':scope > rect', 'fill');
    return [...colors('text', 'fill'), ...colors('path[fill="none"]', 'stroke')].map(
      (one) => Math.max(one, ground!) / Math.min(one, ground!),
    );
  });
const designFile = (design: Design) => given('earlier.json', JSON.stringify(design));

let earlier: Promise<Design> | undefined;
/** A design of the invented speaker, handed over by a page of its own, which is closed: one is enough for all tests. */
function designedEarlier(): Promise<Design> {
  earlier ??= (async () => {
    const { page } = await openApp(app.browser, app.address);
    await add(page, [measured('one.txt')], 1);
    const design = await saved(page);
    await page.context().close();
    return design;
  })();
  return earlier;
}

describe('a design that was saved earlier', () => {
  test('is checked on a first visit with nothing but a new measurement, and the check is handed over', async () => {
    const design = await designedEarlier();
    const { page, complaints } = await openApp(app.browser, app.address);
    const again = measured('tuesday.txt', design.filters);
    await addFiles(page, [designFile(design), again]);
    // What has no telling name is not fitted to, as it would be by itself.
    await page.getByRole('dialog', { name: 'What is tuesday.txt?' }).waitFor();
    await page.keyboard.press('Enter');
    expect(await verdict(page)).toMatch(/^As promised/);
    await settled(page);
    expect(await fileNames(page)).toEqual(['earlier.json', 'tuesday.txt']);
    expect(await roles(page)).toEqual(['promised', 'after']);
    expect(await page.locator('#conclusion').textContent()).toMatch(/^As promised/);
    expect(await page.getByLabel('Name of this worksheet').getAttribute('placeholder')).toBe(design.title);
    expect(await page.locator('.overlay .curve').count()).toBe(0);
    expect(await page.locator('.drawn-check svg').count()).toBe(1);
    expect(await page.locator('.its-filters tbody tr').count()).toBe(design.filters.length);
    expect(await accessibilityFaults(page)).toEqual([]);
    // The same check as the command line makes, as the same file.
    const expected = verifyDesign({
      design,
      after: readMeasurement(again.buffer, again.name).curve,
      seen: readMeasurement(again.buffer, again.name),
      calibration: 'none',
      fileNames: { after: again.name },
    });
    const press = (name: string) => () => page.getByRole('button', { name, exact: true }).click();
    expect(await handedOver(page, press('verification.json'))).toBe(verificationJson(expected));
    expect(await handedOver(page, press('verification.txt'))).toMatch(/^one\.txt \(simulated\)\nAs promised/);
    expect(await handedOver(page, press('verification.svg'))).toMatch(/^<svg.*Promised and measured/s);
    await page.emulateMedia({ colorScheme: 'dark' });
    for (const apart of await contrasts(page)) expect(apart).toBeGreaterThan(3);
    await page.reload();
    expect(await verdict(page)).toMatch(/^As promised/);
    await page.setViewportSize({ width: 390, height: 844 });
    expect(await sticksOut(page)).toEqual([]);
    // Drawn anew for a narrow screen rather than shrunk or cut off.
    expect(await page.locator('.drawn-check svg').getAttribute('width')).toBe('400');
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  test('can be added where the sheet says so, one after the other, and tells what went wrong by its own numbers', async () => {
    const design = await designedEarlier();
    const { page } = await openApp(app.browser, app.address);
    await page.locator('.menu summary').click();
    await page.getByRole('button', { name: 'New, empty' }).click();
    await page.waitForFunction(() => document.querySelectorAll('.files li').length === 0);
    const missing = measured('on.txt', design.filters.slice(1));
    await page.getByLabel('Add what was measured with the filters in').last().setInputFiles(missing);
    await page.getByText('There is nothing yet that on.txt could be held against').waitFor();
    await page.getByLabel('Add a saved design').last().setInputFiles(given('curve.txt', '20 80\n'));
    await page.getByText(/curve\.txt line 1: found "20 80", expected a design as it is saved/).waitFor();
    const button = page.locator('button', { hasText: 'Add a saved design' });
    await button.focus();
    await page.getByLabel('Add a saved design').last().setInputFiles(designFile(design));
    expect(await verdict(page)).toMatch(/^NOT as promised/);
    // Who goes by the keyboard is still where they were.
    expect(await button.evaluate((element) => element === document.activeElement)).toBe(true);
    expect(await page.locator('.verified ol').textContent()).toMatch(/^Filter 1 .*is not there/);
    await page.context().close();
  });

  test('is what is checked beside a worksheet that has gone on, and let go anywhere else it is refused', async () => {
    const design = await designedEarlier();
    const { page } = await openApp(app.browser, app.address);
    await add(page, [measured('one.txt')], 1);
    await add(page, [measured('after.txt', design.filters)], 2);
    await type(page, 'Gain of filter A', '9');
    await page.getByText('NOT as promised', { exact: false }).first().waitFor();
    // The sheet's own filters are called what the sheet calls them.
    expect(await page.locator('.verified ol').textContent()).toMatch(/Filter A .*Enter filter A again/);
    await addFiles(page, [designFile(design)]);
    await page.getByText(/earlier\.json: found a finished design, .*and there too where/).waitFor();
    await page.getByText('Filters that were designed earlier?').click();
    await page.getByLabel('Add a saved design').last().setInputFiles(designFile(design));
    await page.getByText('Held against what earlier.json promised: after.txt.').waitFor();
    expect(await verdict(page)).toMatch(/^As promised/);
    expect(await page.locator('.key-again').count()).toBe(0);
    const { filters } = await saved(page);
    expect(filters[0]!.gainDb).toBe(9);
    await page.context().close();
  });

  test('counts as much of an impulse response as it was made from', async () => {
    const { page } = await openApp(app.browser, app.address);
    await add(page, [impulse('first.wav')], 1);
    await page.getByLabel('What counts of first.wav').selectOption('time');
    await type(page, 'Time of first.wav that counts', '20 ms');
    await settled(page);
    const design = await saved(page);
    await page.locator('.menu summary').click();
    await page.getByRole('button', { name: 'New, empty' }).click();
    await page.waitForFunction(() => document.querySelectorAll('.files li').length === 0);
    await addFiles(page, [designFile(design), impulse('after.wav', design.filters)]);
    expect(await verdict(page)).toMatch(/^As promised/);
    expect(await page.getByLabel('Time of after.wav that counts').inputValue()).toBe('20 ms');
    await page.getByLabel('What counts of after.wav').selectOption('all');
    await page.getByText('“Counts” in the list of files is not the same').waitFor();
    await page.context().close();
  });
});

test('what was added to the demo stays where one’s own measurement takes its place', async () => {
  const { page } = await openApp(app.browser, app.address);
  const errorDb = GRID_HZ.map((hz) => (hz > 1000 ? 3 * Math.log2(hz / 1000) : 0));
  const own = {
    microphoneDistance: '1 m',
    surfaces: [{ name: 'shelf', speakerDistance: '20 cm', microphoneDistance: '90 cm' }],
  };
  await add(
    page,
    [given('calibration.txt', curveText(errorDb)), given('setup.json', JSON.stringify(own))],
    8,
  );
  await page.getByLabel('They are for').selectOption('five-band-48k');
  await settled(page);
  await add(page, [given('one.txt', curveText(speakerDb().map((db, i) => db + errorDb[i]!)))], 3);
  expect(await fileNames(page)).toEqual(['calibration.txt', 'setup.json', 'one.txt']);
  expect((await saved(page)).calibration?.name).toBe('calibration.txt');
  await page.context().close();
});

test('the set-up of the demo makes way with it, though a distance in it was corrected', async () => {
  const { page } = await openApp(app.browser, app.address);
  await page.getByText('A distance was measured wrongly?').click();
  await page.getByLabel('Speaker from desk').last().fill('20');
  await page.getByRole('button', { name: 'Correct the set-up' }).click();
  await settled(page);
  await add(page, [measured('one.txt')], 1);
  expect(await fileNames(page)).toEqual(['one.txt']);
  await page.context().close();
});
