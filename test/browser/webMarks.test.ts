import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { add } from './inventedSpeaker.js';
import { servedApp } from './servedApp.js';
import { demoFile, openApp, settled } from './webApp.js';

const app = servedApp();
const demo = (name: string, as = name) => ({
  name: as,
  mimeType: 'text/plain',
  buffer: readFileSync(demoFile(name)),
});

test('the number of a dip that comes to be laid to the placement can be read in its mark', async () => {
  const { page } = await openApp(app.browser, app.address, {
    colorScheme: 'dark',
    viewport: { width: 390, height: 844 },
  });
  await add(page, [demo('position-1.txt', 'left.txt')], 1);
  const moved = page.locator('.finding-mark.move');
  const before = await moved.count();
  await add(page, [demo('setup.json', 'room.json')], 2);
  await page.getByLabel('They are for').selectOption('five-band-48k');
  await settled(page);
  expect(await moved.count()).toBeGreaterThan(before);
  const fills = await moved.evaluateAll((marks) =>
    marks.map((mark) => {
      const fillOf = (name: string) => getComputedStyle(mark.querySelector(name)!).fill;
      return [fillOf('rect'), fillOf('text')];
    }),
  );
  for (const [ground, number] of fills) expect(number).not.toBe(ground);
  await page.context().close();
});

test('all marks on the chart are reached by the keyboard', async () => {
  const { page } = await openApp(app.browser, app.address);
  await settled(page);
  for (const mark of ['.finding-mark', '.zone-tab', '.pennant'])
    expect(
      await page
        .locator(mark)
        .first()
        .evaluate((element) => (element as unknown as SVGElement).tabIndex),
    ).toBe(0);
  const first = page.locator('.finding-mark').first();
  await first.focus();
  await page.keyboard.press('Enter');
  await page.locator('.finding.chosen').waitFor();
  expect(await first.getAttribute('aria-pressed')).toBe('true');
  await page.context().close();
});
