import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { add, curveText, GRID_HZ, given, measured, saved, speakerDb, type } from './inventedSpeaker.js';
import { servedApp } from './servedApp.js';
import { accessibilityFaults, openApp, settled } from './webApp.js';

const app = servedApp();

/** Through another microphone than the first time. */
const elsewhere = (name: string, ...[filters]: Parameters<typeof speakerDb>) =>
  given(name, curveText(speakerDb(filters).map((db, i) => db + 5 * Math.tanh(Math.log2(GRID_HZ[i]! / 900)))));

const lines = (page: Page) => page.locator('.files li');
const give = async (page: Page, label: string, file: ReturnType<typeof given>, files: number) => {
  await page.getByLabel(label).last().setInputFiles([file]);
  await page.waitForFunction((n) => document.querySelectorAll('.files li').length === n, files);
  await settled(page);
  await page.locator('.verified').waitFor();
};
const verdict = (page: Page) => page.locator('.verdict-line').textContent();

describe('what else the filters are held against', () => {
  test('another microphone without filters: only what they do is compared, and nothing is fitted anew', async () => {
    const { page, complaints } = await openApp(app.browser, app.address);
    await add(page, [measured('one.txt')], 1);
    await type(page, 'Gain of filter A', '-1.25');
    await settled(page);
    const entered = await saved(page);
    const label = 'Add what was measured with the filters in';
    await give(page, label, elsewhere('on.txt', entered.filters), 2);
    expect(await verdict(page)).toMatch(/^NOT as promised/);
    // What helps is called what the sheet calls it.
    expect(await page.locator('.verified').textContent()).toContain(
      'give that with “Without filters, to compare”',
    );
    await page.getByText('Another microphone, or two speakers?').click();
    await give(page, 'Add the same measured without filters', elsewhere('off.txt'), 3);
    expect(await verdict(page)).toMatch(/^As promised/);
    expect(await page.locator('#will-give').textContent()).toContain('Without filters, to compare: off.txt.');
    expect((await saved(page)).filters).toEqual(entered.filters);
    // Neither does it fit anew to say that it is the other speaker's after all.
    await lines(page).last().locator('select').first().selectOption('other');
    await page.getByText('The other speaker: off.txt.').waitFor();
    expect((await saved(page)).filters).toEqual(entered.filters);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  test('the design of the other speaker tells that they are exchanged, and comes back with the worksheet', async () => {
    const { page } = await openApp(app.browser, app.address);
    const right = speakerDb([{ type: 'peaking', frequencyHz: 250, gainDb: 7, q: 1.5 }]);
    await add(page, [given('right.txt', curveText(right))], 1);
    const other = await saved(page);
    await page.locator('.menu summary').click();
    await page.getByRole('button', { name: 'New, empty' }).click();
    await add(page, [measured('left.txt')], 1);
    await give(page, 'Add what was measured with the filters in', measured('on.txt', other.filters), 2);
    expect(await page.locator('.verified').textContent()).toContain(
      'design or curve with “The other speaker”',
    );
    const file = given('right.json', JSON.stringify(other));
    // Let go anywhere else it is refused, with where it belongs.
    await page.locator('input[aria-label="Files to add"]').setInputFiles([file]);
    await page.getByText('where it is that of the other speaker, add it under “Measured again”').waitFor();
    await page.getByText('Another microphone, or two speakers?').click();
    await give(page, 'Add the other speaker', file, 3);
    const told = async () => (await page.locator('.verified li').first().textContent())!;
    expect(await told()).toMatch(/this speaker plays through the other channel's filters/);
    expect(await lines(page).last().textContent()).toContain('the design of right.txt');
    expect(await accessibilityFaults(page)).toEqual([]);
    const before = await told();
    await page.reload();
    await page.locator('.verified').waitFor();
    expect(await told()).toBe(before);
    await page.context().close();
  });

  test('a whole worksheet is not the other speaker, and does not take the place of this one', async () => {
    const { page } = await openApp(app.browser, app.address);
    await add(page, [measured('one.txt')], 1);
    const empty = { schemaVersion: 1, name: 'right', files: [], options: {}, overrules: [] };
    await page
      .getByLabel('Add the other speaker')
      .last()
      .setInputFiles([given('right.json', JSON.stringify(empty))]);
    await page.getByText('right.json: found a whole worksheet').waitFor();
    expect(await lines(page).count()).toBe(1);
    await page.context().close();
  });
});
