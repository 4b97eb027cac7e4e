import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { randomScenario } from '../../fixtures/simulate/randomScenario.js';
import { seededRandom } from '../../fixtures/simulate/seededRandom.js';
import { simulate } from '../../fixtures/simulate/simulate.js';
import { readDevice } from '../../src/schema/device.js';
import { readSetup } from '../../src/schema/setup.js';
import { add, given, measured, saved } from './inventedSpeaker.js';
import { servedApp } from './servedApp.js';
import { accessibilityFaults, handedOver, openApp, settled, sticksOut } from './webApp.js';

const app = servedApp();

const saveExample = (page: Page, part: string) =>
  handedOver(page, async () => {
    await page.locator(`${part} .example summary`).click();
    await page.locator(`${part} .example button`).click();
  });

test('the sheet shows itself how a set-up and an equalizer are written, with no word of the command line', async () => {
  const { page } = await openApp(app.browser, app.address);
  await add(page, [measured('one.txt')], 1);
  expect(await page.locator('#sheet').textContent()).not.toMatch(/nullwise (schema|fit|verify)/);
  expect(readSetup(await saveExample(page, '#stands'), 'example').surfaces.length).toBeGreaterThan(1);
  const device = await saveExample(page, '#to-set');
  expect(readDevice(device, 'example').name).toBe('my equalizer');
  expect(await accessibilityFaults(page)).toEqual([]);
  // One's own is called by its name, whatever its file is called.
  await add(page, [given('five-band-48k.json', device.replace('"step": 0.5', '"step": 0.25'))], 2);
  const chosen = page.getByLabel('They are for').locator('option:checked');
  expect(await chosen.textContent()).toBe('my equalizer');
  expect((await saved(page)).device?.name).toBe('my equalizer');
  const design = await saved(page);
  const list = page.locator('#to-set .filter-list');
  const rows = await list.locator('tbody tr').allTextContents();
  expect(rows).toHaveLength(design.filters.length);
  expect(rows[0]).toMatch(new RegExp(`^A${design.deviceSettings![0]!.band}(Peaking|Low shelf|High shelf)`));
  // Folded away on the screen, it is there on paper, where nothing can be unfolded.
  expect(await list.locator('td').first().isVisible()).toBe(false);
  await page.emulateMedia({ media: 'print' });
  expect(await list.locator('td').first().isVisible()).toBe(true);
  // What was chosen by hand beside what the equalizer takes would be two lists to type from.
  expect(await page.locator('#to-set table.filters').isVisible()).toBe(false);
  await page.emulateMedia({ media: 'screen' });
  expect(await page.locator('#to-set table.filters').isVisible()).toBe(true);
  await page.context().close();
});

test('what is noted, found and warned of names fields of the sheet, and nulls do not bury the cautions', async () => {
  // A shelf whose lower corner is not well determined, with many nulls.
  const scenario = randomScenario(seededRandom(502), {
    placement: 'shelf',
    surroundings: 'room',
    perOctave: 48,
  });
  const { curve, setup } = simulate(scenario);
  const rows = Array.from(curve.frequencyHz, (hz, i) => `${hz.toFixed(2)} ${curve.levelDb[i]!.toFixed(2)}`);
  const surfaces = setup.surfaces.map(({ name, speakerDistance, microphoneDistance }) => ({
    name,
    speakerDistance: `${speakerDistance.m} m`,
    microphoneDistance: `${microphoneDistance.m} m`,
  }));
  const file = JSON.stringify({ microphoneDistance: `${setup.microphoneDistance.m} m`, surfaces });
  const { page } = await openApp(app.browser, app.address);
  await add(page, [given('shelf.txt', rows.join('\n')), given('setup.json', file)], 2);
  const wrong = (await page.locator('#wrong').textContent())!;
  expect(wrong).toContain('not well determined');
  expect(wrong).toContain('give that with “Lowest frequency”');
  expect(await page.locator('#sheet').textContent()).not.toMatch(/(?<![\w-])--[a-z]/);
  const told = await page.locator('#will-give .warnings li').allTextContents();
  expect(told.filter((text) => text.includes('not boosted'))).toEqual([
    expect.stringMatching(/^\d+ dips are not boosted.*“What is wrong, and why”/),
  ]);
  expect(
    (await saved(page)).warnings.filter(({ code }) => code === 'null-not-boosted').length,
  ).toBeGreaterThan(3);
  await page.context().close();
});

test('distances can be typed where there is no set-up file, and what is wrong with them is said at once', async () => {
  const { page, complaints } = await openApp(app.browser, app.address);
  await add(page, [measured('one.txt')], 1);
  const field = (name: string) => page.getByLabel(name, { exact: true });
  await field('Speaker from surface 1').fill('29 ± 2');
  await field('Microphone from surface 1').fill('far');
  await field('Speaker from surface 2').fill('18');
  const take = page.getByRole('button', { name: 'Take these distances' });
  await take.click();
  const wrong = page.locator('.described [role="alert"] li');
  await wrong.first().waitFor();
  expect(await wrong.allTextContents()).toEqual([
    expect.stringMatching(/^Speaker to microphone: found nothing/),
    expect.stringMatching(/^Microphone from wall behind: found "far"/),
    expect.stringMatching(/^Microphone from desk: found nothing/),
  ]);
  expect(await accessibilityFaults(page)).toEqual([]);
  await page.setViewportSize({ width: 390, height: 844 });
  expect(await sticksOut(page)).toEqual([]);
  await field('Speaker to microphone, straight').fill('1 m');
  await field('Microphone from surface 1').fill('129');
  await field('Microphone from surface 2').fill('30 cm');
  await take.click();
  await page.locator('.placement-cards').waitFor();
  await settled(page);
  expect(await page.locator('.file-name').allTextContents()).toEqual(['one.txt', 'setup.json']);
  expect(await page.locator('#stands').textContent()).toContain('desk');
  // What is wrong with a correction is told as well as it was with the first distances.
  await page.getByText('A distance was measured wrongly?').click();
  await field('Speaker from desk').last().fill('near');
  await page.getByRole('button', { name: 'Correct the set-up' }).click();
  await page.locator('.placement-problem').waitFor();
  expect(await accessibilityFaults(page)).toEqual([]);
  await page.getByRole('button', { name: 'Undo' }).click();
  await take.waitFor();
  expect(complaints).toEqual([]);
  await page.context().close();
});

/** How far to the right the words of each heading end from the numbers below it. */
const offsets = (page: Page, table: string) =>
  page.locator(table).evaluate((element) => {
    const rightOfWords = (node: Node) => {
      const range = document.createRange();
      range.selectNodeContents(node);
      return range.getBoundingClientRect().right;
    };
    const headings = [...element.querySelectorAll('thead th')];
    return [...element.querySelectorAll('tbody tr:first-child > *')].flatMap((cell, i) => {
      const field = cell.querySelector<HTMLElement>('input.cell');
      if (!field || !headings[i]) return [];
      const { paddingRight, borderRightWidth } = getComputedStyle(field);
      const right =
        field.getBoundingClientRect().right - parseFloat(paddingRight) - parseFloat(borderRightWidth);
      return [Math.abs(rightOfWords(headings[i]) - right)];
    });
  });

test('headings stand above their numbers, on the screen and on paper', async () => {
  const { page } = await openApp(app.browser, app.address);
  await page.getByRole('button', { name: 'Draw it on the chart' }).click();
  await settled(page);
  for (const media of ['screen', 'print'] as const) {
    await page.emulateMedia({ media });
    for (const [table, columns] of [
      ['table.filters', 3],
      ['#should-be table', 2],
    ] as const) {
      const apart = await offsets(page, table);
      expect(apart).toHaveLength(columns);
      for (const offset of apart) expect(offset).toBeLessThan(2);
    }
  }
  // On paper nothing can be held.
  expect(await page.locator('.filters').getByText('Hold', { exact: true }).isVisible()).toBe(false);
  await page.context().close();
});
