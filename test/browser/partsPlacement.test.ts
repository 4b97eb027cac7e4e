import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Setup } from '../../src/acoustics/setup.js';
import { launchChromium } from './chromium.js';
import { bundled, pageWith } from './partsPage.js';
import type * as Parts from './partsPlacementEntry.js';

declare global {
  var plan: typeof Parts;
}

const path = (name: string) => new URL(`../../${name}`, import.meta.url);
const setupText = readFileSync(path('fixtures/demo/setup.json'), 'utf8');
const style = readFileSync(path('web/placement/placement.css'), 'utf8');
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const BODY = `<style>body { margin: 16px; background: canvas; color-scheme: light dark } ${style}</style>`;

let browser: Browser;
let script: string;

beforeAll(async () => {
  script = await bundled('partsPlacementEntry.tsx', 'plan');
  browser = await launchChromium();
});
afterAll(() => browser?.close());

async function withPlan(work: (page: Page) => Promise<void>, text = setupText): Promise<void> {
  const page = await pageWith(browser, script, BODY);
  const faults: string[] = [];
  page.on('pageerror', (error) => faults.push(error.message));
  page.on('dialog', (dialog) => faults.push(dialog.message()));
  await page.setViewportSize({ width: 1440, height: 900 });
  await page.evaluate((t) => plan.showPlan(t), text);
  await work(page);
  expect(faults).toEqual([]);
  await page.context().close();
}

const distances = ({ surfaces, microphoneDistance }: Setup): Record<string, number> => ({
  ...Object.fromEntries(surfaces.map(({ name, speakerDistance }) => [name, speakerDistance.m])),
  straight: microphoneDistance.m,
});
const told = (page: Page) => page.evaluate(() => plan.told.map(({ done, change }) => `${change} ${done}`));
const last = async (page: Page) => distances((await page.evaluate(() => plan.told.at(-1)))!.setup);

async function grip(page: Page, view: number): Promise<{ x: number; y: number }> {
  const box = (await page.locator('.handle .reach').nth(view).boundingBox())!;
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
}

/** Screen pixels for a metre, from the square of the paper that says it is 25 cm. */
const perMetre = (page: Page, view: number) =>
  page.evaluate((i) => {
    const svg = document.querySelectorAll('.placement-drawing svg')[i] as SVGSVGElement;
    const [a, b] = [
      ...svg
        .querySelector('.grid')!
        .getAttribute('d')!
        .matchAll(/M([\d.]+) 22V/g),
    ].map((m) => Number(m[1]));
    return ((b! - a!) * svg.getScreenCTM()!.a) / 0.25;
  }, view);

test('the speaker follows the pointer to scale, and its distances with it', () =>
  withPlan(async (page) => {
    expect(await page.locator('.scale').first().textContent()).toBe('one square: 25 cm');
    const scale = await perMetre(page, 0);
    const { x, y } = await grip(page, 0);
    await page.mouse.move(x + 3, y - 2);
    await page.mouse.down();
    await page.mouse.move(x + 3 + 0.1 * scale, y - 2 + 0.2 * scale, { steps: 4 });
    expect(new Set(await told(page))).toEqual(new Set(['moved false']));
    const there = await grip(page, 0);
    expect(there.x - x).toBeCloseTo(0.1 * scale, 0);
    expect(there.y - y).toBeCloseTo(0.2 * scale, 0);
    await page.mouse.up();
    expect((await told(page)).filter((each) => each === 'moved true')).toHaveLength(1);
    const now = await last(page);
    expect(now['wall behind']).toBeCloseTo(0.46, 2);
    expect(now['side wall']).toBeCloseTo(1.255, 2);
    expect(now.desk).toBeCloseTo(0.245, 6);
    // √(1² − 2·(0.995·0.2 + 0.12·0.1) + 0.2² + 0.1²), the microphone staying.
    expect(now.straight).toBeCloseTo(Math.sqrt(1 - 2 * (0.995 * 0.2 + 0.12 * 0.1) + 0.05), 2);
    expect(await page.locator('.placement-readout').textContent()).toMatch(
      /^The speaker stands 4[56][\d.]* cm from wall behind/,
    );
  }));

test('Escape puts a drag back; a drag through the wall ends before it and says so', () =>
  withPlan(async (page) => {
    const { x, y } = await grip(page, 0);
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x + 40, y + 60, { steps: 3 });
    await page.keyboard.press('Escape');
    expect(await last(page)).toMatchObject({ 'wall behind': 0.26, straight: 1 });
    await page.mouse.up();
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x, y - 700, { steps: 3 });
    expect((await last(page))['wall behind']).toBeCloseTo(0.01, 3);
    expect(await page.locator('.placement-refusal').textContent()).toMatch(/behind “wall behind”/);
    await page.mouse.up();
    await page.getByRole('button', { name: 'Put it back' }).click();
    expect(await last(page)).toMatchObject({ 'wall behind': 0.26, straight: 1 });
  }));

test('arrow keys move it in both views, and the release of the key ends the move', () =>
  withPlan(async (page) => {
    const above = page.getByRole('slider').first();
    await above.focus();
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('Shift+ArrowLeft');
    expect(await told(page)).toEqual(['moved false', 'moved true', 'moved false', 'moved true']);
    expect(await last(page)).toMatchObject({ 'wall behind': 0.27, 'side wall': 1.055 });
    expect(await above.getAttribute('aria-valuetext')).toBe(
      '105.5 cm from side wall, 27 cm from wall behind',
    );
    expect(await page.getByRole('status').textContent()).toMatch(
      /^The speaker stands 27 cm from wall behind/,
    );
    await page.getByRole('slider').nth(1).focus();
    await page.keyboard.press('ArrowUp');
    expect(await last(page)).toMatchObject({ desk: 0.255, ceiling: 1.35 });
  }));

test('a typed distance moves the speaker; what is no length stays in its field with the reason', () =>
  withPlan(async (page) => {
    const field = page.getByLabel('Speaker away by').first();
    await field.fill('16 in');
    await field.press('Enter');
    await expect.poll(async () => (await last(page))['wall behind']).toBeCloseTo(0.4064, 6);
    expect(await field.inputValue()).toBe('40.6');
    await field.fill('far');
    await field.blur();
    await page.getByRole('alert').waitFor();
    expect(await page.getByRole('alert').textContent()).toMatch(/found "far.*", expected a length/);
    expect(await field.getAttribute('aria-invalid')).toBe('true');
    expect(await field.inputValue()).toBe('far');
    await field.press('Escape');
    expect(await field.inputValue()).toBe('40.6');
    expect(await page.getByRole('alert').count()).toBe(0);
  }));

test('the microphone comes along where that is chosen', () =>
  withPlan(async (page) => {
    await page.getByLabel('moves along').check();
    await page.getByRole('slider').first().focus();
    await page.keyboard.press('ArrowDown');
    expect(await last(page)).toMatchObject({ 'wall behind': 0.27, straight: 1 });
    const told = await page.evaluate(() => plan.told.at(-1)!.setup.surfaces[0]!.microphoneDistance.m);
    expect(told).toBeCloseTo(1.265, 9);
  }));

test('a corrected distance is told as such and moves nothing', () =>
  withPlan(async (page) => {
    await page.getByText('A distance was measured wrongly?').click();
    await page.getByLabel('Microphone from desk').fill('33 ± 2');
    await page.getByRole('button', { name: 'Correct the set-up' }).click();
    await expect.poll(() => told(page)).toEqual(['corrected true']);
    const desk = await page.evaluate(() => plan.told[0]!.setup.surfaces[1]!);
    expect(desk.microphoneDistance.m).toBeCloseTo(0.33, 9);
    expect(desk.microphoneDistance.toleranceM).toBeCloseTo(0.02, 9);
    expect(desk.speakerDistance.m).toBe(0.245);
  }));

test('a hostile name is text everywhere', () => {
  const name = '<img src=x onerror=alert(1)>';
  return withPlan(
    async (page) => {
      expect(await page.locator('img').count()).toBe(0);
      expect(await page.locator('h4').first().textContent()).toBe(name);
      await page.getByRole('button', { name: 'Show' }).first().click();
      expect(await page.locator('.surface.highlighted').count()).toBe(2);
      expect(await page.locator('.reflected.highlighted').count()).toBe(2);
    },
    setupText.replace('wall behind', name),
  );
});

test.each(['light', 'dark'] as const)(
  'axe finds nothing to complain of, %s, wide and narrow, and nothing sticks out',
  (colorScheme) =>
    withPlan(async (page) => {
      await page.emulateMedia({ colorScheme });
      await page.getByRole('slider').first().press('ArrowDown');
      for (const details of await page.locator('summary').all()) await details.click();
      await page.evaluate(axe);
      for (const width of [1440, 390]) {
        await page.setViewportSize({ width, height: 844 });
        const found = await page.evaluate(async () => {
          const { violations } = await (
            window as unknown as {
              axe: { run(c: string): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }> };
            }
          ).axe.run('main');
          return violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html).join(' ')}`);
        });
        expect(found).toEqual([]);
        expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
      }
    }),
);

/** A shelf in a long room: the wall in front lies beyond the drawing, and its name is hinted at. */
const LONG_ROOM = JSON.stringify({
  microphoneDistance: '241.7 cm',
  surfaces: [
    { name: 'wall behind', speakerDistance: '27 cm', microphoneDistance: '262 cm' },
    { name: 'shelf', speakerDistance: '25 cm', microphoneDistance: '33 cm' },
    { name: 'side wall', speakerDistance: '51 cm', microphoneDistance: '108 cm' },
    { name: 'ceiling', speakerDistance: '159 cm', microphoneDistance: '150 cm' },
    { name: 'floor', speakerDistance: '135 cm', microphoneDistance: '143 cm' },
    { name: 'wall in front of us', speakerDistance: '622 cm', microphoneDistance: '387 cm' },
    { name: 'far side wall', speakerDistance: '276 cm', microphoneDistance: '219 cm' },
  ],
});

test('the names of surfaces stay inside the drawing, of one that lies beyond it too, and clear of distances', async () => {
  await withPlan(async (page) => {
    const faults = await page.locator('.placement-drawing svg').evaluateAll((drawings) =>
      drawings.flatMap((drawing) => {
        const frame = drawing.getBoundingClientRect();
        const texts = [...drawing.querySelectorAll('.surface .name, .distance text')].map((text) => ({
          words: text.textContent,
          name: text.classList.contains('name'),
          box: text.getBoundingClientRect(),
        }));
        const outside = texts.filter(
          ({ box }) =>
            box.left < frame.left - 1 ||
            box.right > frame.right + 1 ||
            box.top < frame.top - 1 ||
            box.bottom > frame.bottom + 1,
        );
        const over = texts.flatMap(({ words, name, box }) =>
          texts
            .filter(
              (other) =>
                name &&
                !other.name &&
                box.left < other.box.right &&
                other.box.left < box.right &&
                box.top < other.box.bottom &&
                other.box.top < box.bottom,
            )
            .map((other) => `${words} over ${other.words}`),
        );
        return [...outside.map(({ words }) => `${words} outside`), ...over];
      }),
    );
    expect(faults).toEqual([]);
    expect(await page.locator('.surface.far .name').allTextContents()).toContain(
      'wall in front of us, farther out',
    );
  }, LONG_ROOM);
});
