import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { verificationText } from '../../src/export/text/verificationText.js';
import { readMeasurement } from '../../src/measurement/readMeasurement.js';
import type { Design } from '../../src/schema/design.js';
import { verifyDesign } from '../../src/verify/verifyDesign.js';
import { impulse } from './inventedImpulse.js';
import { add, curveText, GRID_HZ, given, measured, saved, speakerDb, type } from './inventedSpeaker.js';
import { servedApp } from './servedApp.js';
import { accessibilityFaults, addFiles, openApp, settled } from './webApp.js';

const app = servedApp();

const roles = (page: Page) =>
  page.locator('.files select').evaluateAll((all) => (all as HTMLSelectElement[]).map(({ value }) => value));

describe('measured again', () => {
  test('the filters stay as they were entered, and the microphone is calibrated as it was before', async () => {
    const { page } = await openApp(app.browser, app.address);
    const errorDb = GRID_HZ.map((hz) => (hz > 1000 ? 3 * Math.log2(hz / 1000) : 0));
    const through = (name: string, filters?: Design['filters']) =>
      given(name, curveText(speakerDb(filters).map((db, i) => db + errorDb[i]!)));
    await add(page, [through('one.txt'), given('calibration.txt', curveText(errorDb))], 2);
    await type(page, 'Gain of filter A', '-1.25');
    await settled(page);
    const entered = await saved(page);
    const after = through('after.txt', entered.filters);
    await add(page, [after], 3);
    await page.locator('.verified').waitFor();
    expect((await saved(page)).filters).toEqual(entered.filters);
    expect(await page.locator('.verified').textContent()).toMatch(/^As promised/);
    // Without the calibration it would not be.
    const { curve } = readMeasurement(after.buffer, 'after.txt');
    expect(verificationText(verifyDesign({ design: entered, after: curve }))).not.toContain('As promised');
    await page.context().close();
  });

  test('says what stands in the way of comparing', async () => {
    const { page } = await openApp(app.browser, app.address);
    await add(page, [measured('one.txt')], 1);
    const far = Array.from({ length: 20 }, (_, i) => `${30_000 + 100 * i} 80`).join('\n');
    await add(page, [given('after.txt', far)], 2);
    await page.locator('.verified').waitFor();
    expect(await page.locator('.verified').textContent()).toMatch(/^after\.txt: .*expected/s);
    expect(await page.locator('#conclusion').textContent()).toMatch(/RMS between/);
    await page.context().close();
  });
});

const words = async (page: Page) => {
  await page.locator('.verified').waitFor();
  return (await page.locator('.verified').textContent())!.replace(/\s+/g, ' ');
};

test('an impulse response counts as far as the one before it, and it is said where that is changed', async () => {
  const { page } = await openApp(app.browser, app.address);
  await add(page, [impulse('first.wav')], 1);
  await page.getByLabel('What counts of first.wav').selectOption('time');
  await type(page, 'Time of first.wav that counts', '20 ms');
  await settled(page);
  const entered = await saved(page);
  await add(page, [impulse('after.wav', entered.filters)], 2);
  expect(await page.locator('.notice').textContent()).toContain('Of after.wav as much counts');
  expect(await page.getByLabel('Time of after.wav that counts').inputValue()).toBe('20 ms');
  expect(await words(page)).toContain('As promised');
  expect(await page.getByText('“Counts” in the list of files is not the same').count()).toBe(0);
  await page.getByLabel('What counts of after.wav').selectOption('all');
  await page.getByText('“Counts” in the list of files is not the same').waitFor();
  await page.context().close();
});

/** Noise of a measurement, another one for each seed. */
const noisy = (name: string, filters: Design['filters'], seed: number) =>
  given(
    name,
    curveText(speakerDb(filters).map((db, i) => db + 0.5 * Math.sin(7.3 * seed + i * (1.9 + seed / 7)))),
  );

describe('a measurement whose name does not say what it is', () => {
  test('is asked about where others are there, and what has the filters in leaves them as they are', async () => {
    const { page, complaints } = await openApp(app.browser, app.address);
    // One's own first measurements take the place of the demo without a question.
    await add(page, [measured('one.txt')], 1);
    const entered = await saved(page);
    await addFiles(page, [measured('two.txt', entered.filters)]);
    const asked = page.getByRole('dialog', { name: 'What is two.txt?' });
    await asked.waitFor();
    expect(await accessibilityFaults(page)).toEqual([]);
    expect(await roles(page)).toEqual(['position']);
    await page.keyboard.press('Enter');
    await page.waitForFunction(() => document.querySelectorAll('.files li').length === 2);
    expect(await roles(page)).toEqual(['position', 'after']);
    expect(await words(page)).toContain('As promised');
    expect((await saved(page)).filters).toEqual(entered.filters);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  test('is another position, a repeat, or left out, as the user says; what came with it is taken all the same', async () => {
    const { page } = await openApp(app.browser, app.address);
    await add(page, [measured('one.txt')], 1);
    await addFiles(page, [measured('two.txt'), given('calibration.txt', '20 0\n20000 0\n')]);
    await page.getByRole('dialog').waitFor();
    await page.keyboard.press('Escape');
    await page.waitForFunction(() => document.querySelectorAll('.files li').length === 2);
    expect(await roles(page)).toEqual(['position', 'calibration']);
    await addFiles(page, [measured('two.txt'), measured('three.txt')]);
    await page.getByRole('dialog', { name: /^What are two\.txt and three\.txt\?/ }).waitFor();
    await page.getByRole('button', { name: /^Another position/ }).click();
    await page.waitForFunction(() => document.querySelectorAll('.files li').length === 4);
    await addFiles(page, [noisy('four.txt', [], 3)]);
    await page.getByRole('button', { name: /^The first position again/ }).click();
    await page.waitForFunction(() => document.querySelectorAll('.files li').length === 5);
    await settled(page);
    expect(await roles(page)).toEqual(['position', 'calibration', 'position', 'position', 'repeat']);
    const design = await saved(page);
    expect(design.positions?.each).toHaveLength(3);
    expect(design.repeatability).toMatchObject({ source: 'estimated', measurements: 2 });
    await page.context().close();
  });
});

describe('several measurements with the filters in', () => {
  test('are averaged, whatever they are called when given where it says so', async () => {
    const { page } = await openApp(app.browser, app.address);
    await add(page, [measured('one.txt')], 1);
    const entered = await saved(page);
    const again = [1, 2, 3].map((seed) => noisy(`check ${seed}.txt`, entered.filters, seed));
    await page.getByLabel('Add what was measured with the filters in').last().setInputFiles(again);
    await page.waitForFunction(() => document.querySelectorAll('.files li').length === 4);
    expect(await roles(page)).toEqual(['position', 'after', 'after', 'after']);
    const said = await words(page);
    expect(said).toContain('Compared: the average of 3 measurements with the filters on');
    expect(said).toContain('As promised');
    // What the filters add stands in a table, and what was measured on the chart.
    expect(await page.locator('.verified tbody tr').count()).toBeGreaterThan(7);
    const [from, to] = await Promise.all(
      ['.curve-again', '.curve-expected'].map((curve) => page.locator(curve).boundingBox()),
    );
    expect(Math.abs(from!.y - to!.y)).toBeLessThan(12);
    await page.getByLabel('Read at').fill('240');
    const read = async (curve: string) => parseFloat((await page.locator(`.${curve} dd`).textContent())!);
    expect(Math.abs((await read('of-again')) - (await read('of-expected')))).toBeLessThan(0.5);
    expect(await page.locator('.key-again').textContent()).toContain('Measured again');
    await page.setViewportSize({ width: 390, height: 844 });
    expect(
      await page.locator('.verified .scroll').evaluate((box) => box.scrollWidth - box.clientWidth),
    ).toBeLessThanOrEqual(0);
    expect(said).toContain('That is right where they are repeats at that position');
    // Filters have letters on the sheet.
    expect(said).toMatch(/Would show: any single filter|Might not show: filter [A-Z]\b/);
    expect(await page.locator('#will-give').textContent()).toContain(
      'check 1.txt, check 2.txt and check 3.txt',
    );
    await page.context().close();
  });

  test('take the place of earlier ones, or stand beside them, as the user says', async () => {
    const { page } = await openApp(app.browser, app.address);
    await add(page, [measured('one.txt')], 1);
    const entered = await saved(page);
    await add(page, [measured('after.txt')], 2);
    const wrong = await words(page);
    expect(wrong).toContain('NOT as promised');
    expect(wrong).toMatch(/What to do: /);
    expect(await page.locator('.verified .far').count()).toBeGreaterThan(1);
    expect(await accessibilityFaults(page)).toEqual([]);
    await addFiles(page, [measured('after-2.txt', entered.filters)]);
    await page.getByRole('dialog', { name: 'after-2.txt: in place of after.txt, or beside?' }).waitFor();
    await page.getByRole('button', { name: 'In its place' }).click();
    await page.waitForFunction(() => !document.querySelector('.files')?.textContent?.includes('after.txt'));
    await page.getByText('Held against what was promised: after-2.txt.').waitFor();
    expect(await words(page)).toContain('As promised');
    await addFiles(page, [measured('after-3.txt', entered.filters)]);
    await page.getByRole('button', { name: 'Beside it' }).click();
    await page.getByText('Held against what was promised: after-2.txt and after-3.txt.').waitFor();
    expect(await words(page)).toContain('the average of 2 measurements');
    await page.context().close();
  });
});

describe('a measurement given as made with the filters in that was made before them', () => {
  const AFTER = 'Add what was measured with the filters in';
  const same = /holds the very same levels as/;
  const remarks = async (page: Page) => {
    await page.locator('.verified').waitFor();
    const all = await page.locator('.verified .warnings li').allTextContents();
    return all.map((text) => text.replace(/\s+/g, ' ')).filter((text) => same.test(text));
  };
  /** The rows of another file as another program would write them: commas, a level of its own, the last row first. */
  const rewritten = (name: string, { buffer }: { readonly buffer: Buffer }) => {
    const rows = buffer.toString().trim().split('\n').slice(1);
    const others = rows
      .map((row) => row.split(' ').map(Number))
      .map(([hz, db]) => `${hz},${(db! - 7).toFixed(3)}`);
    return given(name, `Frequency (Hz),Level (dB)\n${others.reverse().join('\n')}\n`);
  };

  test('is told to be one of several that the design was made from, written anew or not, and no other is', async () => {
    const { page, complaints } = await openApp(app.browser, app.address);
    const [left, right] = [noisy('left.txt', [], 1), noisy('right.txt', [], 2)];
    await add(page, [left, right], 2);
    const entered = await saved(page);
    await page
      .getByLabel(AFTER)
      .last()
      .setInputFiles([rewritten('again.csv', right), noisy('new.txt', entered.filters, 3)]);
    await page.waitForFunction(() => document.querySelectorAll('.files li').length === 4);
    await page.getByText('the average of 2 measurements with the filters on').waitFor();
    const told = await remarks(page);
    expect(told).toHaveLength(1);
    expect(told[0]).toMatch(
      /^again\.csv, given as measured with the filters on, .* as right\.txt, one of the 2/,
    );
    expect(told[0]).toContain('nothing new was measured there');
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  test('is told to be the one that the design was made from, where there is one', async () => {
    const { page } = await openApp(app.browser, app.address);
    await add(page, [measured('one.txt')], 1);
    await page
      .getByLabel(AFTER)
      .last()
      .setInputFiles([rewritten('again.csv', measured('one.txt'))]);
    await page.waitForFunction(() => document.querySelectorAll('.files li').length === 2);
    const told = await remarks(page);
    expect(told).toHaveLength(1);
    expect(told[0]).toContain('as the one that the design was made from: nothing new was measured');
    await page.context().close();
  });
});
