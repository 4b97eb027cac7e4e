import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readDesignRequest } from '../../cli/readRequest.js';
import { randomScenario } from '../../fixtures/simulate/randomScenario.js';
import { simulate } from '../../fixtures/simulate/simulate.js';
import { shippedDevices } from '../../src/device/shippedDevices.js';
import { seededRandom } from '../../src/fit/seededRandom.js';
import { type Design, type DesignRequest, design } from '../../src/index.js';
import { measurementOf, requestOf } from '../pipeline/samples.js';
import { launchChromium } from './chromium.js';
import { bundled, pageWith } from './partsPage.js';
import { mathValues } from './sameNumbersEntry.js';

type SameNumbers = typeof import('./sameNumbersEntry.js');
declare global {
  interface Window {
    sameNumbers: SameNumbers;
  }
}

/** Typed arrays do not cross into a page by themselves. */
const packed = (value: unknown) =>
  JSON.stringify(value, (_, each) =>
    ArrayBuffer.isView(each) ? { packed: Array.from(each as Float64Array) } : each,
  );

const demoFile = (name: string) => fileURLToPath(new URL(`../../fixtures/demo/${name}`, import.meta.url));
const demo = (): DesignRequest =>
  readDesignRequest(
    [1, 2, 3, 4].map((n) => demoFile(`position-${n}.txt`)),
    { setup: demoFile('setup.json'), moved: ['moved-4-cm.txt', 'moved.txt'].map(demoFile) },
  );

/** Simulated; one in three for a device, one in two in a whole room, one in two with phase. */
const simulated = (seed: number): DesignRequest => {
  const surroundings = seed % 2 === 0 ? 'few' : 'room';
  const scenario = randomScenario(seededRandom(200 + seed), { surroundings, withPhase: seed % 4 < 2 });
  const { curve, setup } = simulate(scenario);
  const device = seed % 3 === 0 ? shippedDevices[0] : undefined;
  return requestOf(measurementOf(curve), { setup, bands: 4, effort: 'quick', ...(device && { device }) });
};

let browser: Browser;
let page: Page;
beforeAll(async () => {
  browser = await launchChromium();
  page = await pageWith(browser, await bundled('./sameNumbersEntry.ts', 'sameNumbers'));
});
afterAll(() => browser?.close());

function designedInPage(request: DesignRequest): Promise<Design> {
  return page.evaluate((text) => {
    const read = JSON.parse(text, (_, each) => (each?.packed ? Float64Array.from(each.packed) : each));
    return window.sameNumbers.designs([read])[0]!;
  }, packed(request));
}

/** The greatest difference between two numbers at the same place; everything else has to be equal. */
function apart(a: unknown, b: unknown, place = 'design'): number {
  if (typeof a === 'number' && typeof b === 'number') return Math.abs(a - b);
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) {
    expect(b, place).toEqual(a);
    return 0;
  }
  expect(Object.keys(b), place).toEqual(Object.keys(a));
  return Object.entries(a).reduce(
    (most, [key, each]) =>
      Math.max(most, apart(each, (b as Record<string, unknown>)[key], `${place}.${key}`)),
    0,
  );
}

describe('Node and the browser', () => {
  test('reckon every function of Math alike, to 13 digits', async () => {
    const here = mathValues();
    const there = await page.evaluate(() => window.sameNumbers.mathValues());
    const differing: Record<string, number> = {};
    for (const [name, values] of Object.entries(here)) {
      values.forEach((value, i) => {
        const other = there[name]![i]!;
        expect(Math.abs(other - value)).toBeLessThanOrEqual(1e-13 * Math.max(Math.abs(value), 1e-300));
        if (!Object.is(other, value)) differing[name] = (differing[name] ?? 0) + 1;
      });
    }
    const words = Object.entries(differing).map(([name, count]) => `${name} in ${count} of 4000`);
    console.log(
      `Node ${process.version} against Chromium ${browser.version()}: ${words.join(', ') || 'no difference in any digit'}`,
    );
  });

  test('design the demo alike, in every number and every word', async () => {
    const request = demo();
    expect(apart(design(request), await designedInPage(request))).toBeLessThanOrEqual(1e-9);
  });

  test.each([1, 2, 3, 4])('design the simulated speaker %i alike', async (seed) => {
    const request = simulated(seed);
    const here = design(request);
    const there = await designedInPage(request);
    expect(apart(here, there)).toBeLessThanOrEqual(1e-9);
    expect(here.findings.length + here.filters.length).toBeGreaterThan(0);
  });
});
