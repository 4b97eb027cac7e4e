import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { design } from '../../src/index.js';
import { launchChromium } from './chromium.js';
import { answeredBy, otherNodes } from './otherNodes.js';
import { bundled, pageWith } from './partsPage.js';
import { answeredIn, apart, demo, simulated } from './sameNumbersCases.js';
import { elementaryValues } from './sameNumbersEntry.js';

let browser: Browser;
let page: Page;
let script: string;
beforeAll(async () => {
  browser = await launchChromium();
  script = await bundled('./sameNumbersEntry.ts', 'sameNumbers');
  page = await pageWith(browser, script);
});
afterAll(() => browser?.close());

describe('Node and the browser', () => {
  test('reckon every elementary function alike, to the last digit', async () => {
    const there = await page.evaluate(() => window.sameNumbers.elementaryValues());
    expect(there).toEqual(elementaryValues());
  });

  test('design the demo alike, in every number and every word', async () => {
    const request = demo();
    expect(apart([design(request)], await answeredIn(page, [{ design: request }]))).toBeLessThanOrEqual(1e-9);
  });

  test.each([1, 2, 3, 4])('design the simulated speaker %i alike', async (seed) => {
    const request = simulated(seed);
    const here = design(request);
    expect(apart([here], await answeredIn(page, [{ design: request }]))).toBeLessThanOrEqual(1e-9);
    expect(here.findings.length + here.filters.length).toBeGreaterThan(0);
  });
});

const nodes = otherNodes();
const where =
  nodes.length === 0 ? ' (skipped: no node22 or node24 on the path, and NULLWISE_NODES names no other)' : '';
test.skipIf(nodes.length === 0)(
  `other versions of Node design the demo and a simulated speaker alike${where}`,
  () => {
    const requests = [demo(), simulated(1)];
    const here = requests.map((request) => design(request));
    for (const node of nodes) {
      const there = answeredBy(
        node,
        script,
        requests.map((request) => ({ design: request })),
      );
      expect(apart(here, there)).toBeLessThanOrEqual(1e-9);
    }
  },
);
