import { expect, test } from 'vitest';
import { readDesignRequest } from '../../cli/readRequest.js';
import demoOptions from '../../fixtures/demo/options.json' with { type: 'json' };
import { design } from '../../src/design.js';
import type { Design } from '../../src/schema/design.js';
import { add, given, type } from './inventedSpeaker.js';
import { servedApp } from './servedApp.js';
import { demoFile, handedOver, openApp, settled } from './webApp.js';

const app = servedApp();

test('what is left is taken apart, the error by bands follows the fit, and the worst position can be served', async () => {
  const { page, complaints } = await openApp(app.browser, app.address);
  await page.locator('#more-bands svg').waitFor();
  const knee = await page.locator('#more-bands p').textContent();
  expect(knee).toMatch(/knee is at \d+ bands?, with/);
  const left = page.locator('#will-give');
  expect(await left.textContent()).toContain('their average was aimed at');

  await page.locator('#aim').selectOption('worst');
  await left.getByText('the worst position was aimed at').waitFor();
  await settled(page);
  expect(await left.textContent()).toContain('Given up for the worst position');
  // The curve is that of the average, whatever is aimed at.
  expect(await page.locator('#more-bands p').textContent()).toBe(knee);

  await page.locator('#option-bands').fill('3');
  await page.keyboard.press('Enter');
  await page.waitForFunction(() => document.querySelectorAll('.filters tbody tr').length <= 3);
  await settled(page);
  expect(await page.locator('#more-bands p').textContent()).toMatch(/[^\d]3 (leave|bands, with)/);
  expect(complaints).toEqual([]);
});

test('a brief search gives what the same effort gives on the command line', async () => {
  const { page, complaints } = await openApp(app.browser, app.address);
  await settled(page);
  await page.locator('#effort').selectOption('quick');
  await settled(page);
  const saved = await handedOver(page, () => page.getByRole('button', { name: 'design.json' }).click());
  const { filters } = JSON.parse(saved) as Design;
  const positions = [1, 2, 3, 4].map((n) => demoFile(`position-${n}.txt`));
  const setup = demoFile('setup.json');
  const moved = ['moved-4-cm.txt', 'moved.txt'].map(demoFile);
  const asked = (effort: string) =>
    design(readDesignRequest(positions, { ...demoOptions, setup, moved, effort })).filters;
  expect(filters).toEqual(asked('quick'));
  expect(filters).not.toEqual(asked('normal'));
  expect(complaints).toEqual([]);
});

test('of an equalizer its own ends stand where nothing is typed, and the drawing says which bands it has not, dark in the dark', async () => {
  const { page, complaints } = await openApp(app.browser, app.address, { colorScheme: 'dark' });
  const small = {
    name: 'small',
    sampleRatesHz: [44100],
    bands: [{ types: ['peaking'], count: 2 }],
    gainDb: { min: -9, max: 3, step: 0.5 },
    frequencyHz: { min: 20, max: 20000, step: 1 },
    q: { min: 0.7, max: 6, step: 0.1 },
    qConvention: 'cookbook',
  };
  await settled(page);
  await add(page, [given('small.json', JSON.stringify(small))], 8);
  const shown = (label: string) => page.getByLabel(label, { exact: true });
  const placeholders = await Promise.all(
    ['Bands', 'Most boost', 'Most cut', 'Least Q', 'Greatest Q', 'Sample rate'].map((label) =>
      shown(label).getAttribute('placeholder'),
    ),
  );
  expect(placeholders).toEqual(['2', '3 dB', '9 dB', '0.7', '6', '44.1 kHz']);
  await type(page, 'Most boost', '8');
  await page.getByText('the equalizer has no more than 3 dB').waitFor();
  await settled(page);
  expect(await page.locator('#more-bands p').textContent()).toMatch(
    /knee is at \d+ bands, .*but the equalizer has 2;/,
  );
  expect(await page.locator('#more-bands svg').textContent()).toContain('More than the equalizer has');
  const ground = page.locator('#more-bands svg > rect').first();
  expect(await ground.evaluate((rect) => getComputedStyle(rect).fill)).toBe('rgb(27, 28, 31)');
  expect(complaints).toEqual([]);
});
