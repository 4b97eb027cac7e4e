// Speed of the app, printed and never asserted: npm run bench:web
import { readFileSync } from 'node:fs';
import { cpus } from 'node:os';
import type { Browser, Page } from 'playwright-core';
import buildWebOnce from '../browser/buildWebOnce.js';
import { launchChromium } from '../browser/chromium.js';
import { demoFile, serveWeb } from '../browser/webApp.js';

/** Four times the rows of the demo: between each two three more. */
function denser(text: string): string {
  const lines = text.split('\n');
  return lines
    .flatMap((line, i) => {
      const a = line.trim().split(/\s+/).map(Number);
      const b = (lines[i + 1] ?? '').trim().split(/\s+/).map(Number);
      if (a.length < 2 || b.length < 2 || [...a, ...b].some(Number.isNaN)) return [line];
      return [0, 1, 2, 3].map((k) => a.map((v, j) => (v + ((b[j]! - v) * k) / 4).toFixed(4)).join(' '));
    })
    .join('\n');
}

const median = (values: readonly number[]) =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;
const share = (values: readonly number[], of: number) =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length * of)] ?? Number.NaN;

/** Time between frames while `move` goes on, and how long the page worked on each. */
async function frames(page: Page, move: () => Promise<void>) {
  await page.evaluate(() => {
    const state = window as unknown as { gaps: number[]; going: boolean };
    state.gaps = [];
    state.going = true;
    let last = performance.now();
    const tick = (now: number) => {
      state.gaps.push(now - last);
      last = now;
      if (state.going) requestAnimationFrame(tick);
    };
    requestAnimationFrame(tick);
  });
  await move();
  return page.evaluate(() => {
    const state = window as unknown as { gaps: number[]; going: boolean };
    state.going = false;
    return state.gaps.slice(2);
  });
}

async function pull(page: Page, selector: string): Promise<void> {
  const handle = page.locator(selector).first();
  await handle.scrollIntoViewIfNeeded();
  const box = (await handle.boundingBox())!;
  const x = box.x + box.width / 2;
  const y = box.y + box.height / 2;
  await page.mouse.move(x, y);
  await page.mouse.down();
  for (let i = 0; i < 60; i++) {
    await page.mouse.move(x + 40 * Math.sin(i / 6), y - 12 * Math.sin(i / 4));
    await page.waitForTimeout(8);
  }
  await page.mouse.up();
}

async function main(browser: Browser, address: string): Promise<void> {
  console.log(`${cpus().length} × ${cpus()[0]?.model ?? 'unknown processor'}\n`);

  const loads: number[] = [];
  for (let i = 0; i < 3; i++) {
    const context = await browser.newContext({ viewport: { width: 1440, height: 900 } });
    const page = await context.newPage();
    const start = performance.now();
    await page.goto(address, { waitUntil: 'commit' });
    await page.waitForSelector('.overlay .curve-expected');
    loads.push(performance.now() - start);
    await page.waitForSelector('.plot[data-drawn]');
    if (i === 2) console.log(`with the grid of the chart: ${(performance.now() - start).toFixed(0)} ms`);
    await context.close();
  }
  console.log(
    `cold load until conclusion, findings, filters and curves are there: ${median(loads).toFixed(0)} ms (goal 2000)`,
  );

  const context = await browser.newContext({ viewport: { width: 1440, height: 900 } });
  const page = await context.newPage();
  page.setDefaultTimeout(120_000);
  // What compiles this file wraps inner functions in a helper that the page does not have.
  await page.addInitScript('globalThis.__name = (inner) => inner');
  await page.goto(address);
  await page.waitForSelector('.plot[data-drawn]');
  const dense = [1, 2, 3, 4].map((n) => ({
    name: `dense-${n}.txt`,
    mimeType: 'text/plain',
    buffer: Buffer.from(denser(readFileSync(demoFile(`position-${n}.txt`), 'utf8'))),
  }));
  const setup = {
    name: 'setup.json',
    mimeType: 'application/json',
    buffer: readFileSync(demoFile('setup.json')),
  };
  await page.locator('input[aria-label="Files to add"]').setInputFiles([...dense, setup]);
  await page.waitForFunction(() => document.querySelectorAll('.files li').length === 5);
  const idle = () => page.waitForFunction(() => document.querySelector('.pulse') === null);
  await page.waitForTimeout(100);
  await idle();

  const refits: number[] = [];
  for (const bands of ['10', '9', '10', '9', '10']) {
    await idle();
    const ms = await page.evaluate(async (typed) => {
      const input = document.querySelector<HTMLInputElement>('#option-bands')!;
      const numbers = () =>
        [...document.querySelectorAll<HTMLInputElement>('.filters input.cell')]
          .map(({ value }) => value)
          .join(' ');
      const before = numbers();
      const start = performance.now();
      input.value = typed;
      input.dispatchEvent(new Event('change', { bubbles: true }));
      return new Promise<number>((resolve) => {
        const look = () => {
          if (numbers() !== before) resolve(performance.now() - start);
          else requestAnimationFrame(look);
        };
        requestAnimationFrame(look);
      });
    }, bands);
    if (bands === '10') refits.push(ms);
    await page.waitForTimeout(100);
  }
  console.log(`first result of a refit with 10 bands: ${median(refits).toFixed(0)} ms (goal 300)`);
  await idle();

  for (const [what, selector] of [
    ['a filter', '.pennant'],
    ['the speaker', '.placement [role="slider"], .placement [tabindex="0"]'],
  ] as const) {
    if ((await page.locator(selector).count()) === 0) {
      console.log(`${what}: nothing to pull`);
      continue;
    }
    await pull(page, selector);
    await page.waitForTimeout(2500);
    await idle();
    const gaps = await frames(page, () => pull(page, selector));
    console.log(
      `frames while ${what} is pulled, 4 × the demo's data: median ${median(gaps).toFixed(0)} ms, ` +
        `nine in ten below ${share(gaps, 0.9).toFixed(0)} ms (goal: median 50), ${gaps.length} frames`,
    );
  }
  await context.close();
}

await buildWebOnce();
const browser = await launchChromium();
const served = await serveWeb();
try {
  await main(browser, served.address);
} finally {
  await browser.close();
  served.close();
}
