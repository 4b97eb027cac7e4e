import { expect, test } from 'vitest';
import { readDesignRequest } from '../../cli/readRequest.js';
import demoOptions from '../../fixtures/demo/options.json' with { type: 'json' };
import { design } from '../../src/design.js';
import type { Design } from '../../src/schema/design.js';
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
