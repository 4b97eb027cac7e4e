import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { beforeAfterSvg } from '../../src/export/plot/beforeAfterSvg.js';
import { reportHtml } from '../../src/export/reportHtml.js';
import { cleanText } from '../../src/export/words/cleanText.js';
import type { Design } from '../../src/schema/design.js';
import { crowded } from '../export/crowded.js';
import { HOSTILE, hostileDesign } from '../export/hostileDesign.js';
import { sampleDesign } from '../export/sampleDesign.js';
import { launchChromium } from './chromium.js';

let browser: Browser;
let folder: string;
let plotlySource: string;

beforeAll(async () => {
  browser = await launchChromium();
  folder = await mkdtemp(join(tmpdir(), 'report-test-'));
  plotlySource = await readFile(createRequire(import.meta.url).resolve('plotly.js-dist-min'), 'utf8');
});

afterAll(async () => {
  await browser?.close();
  if (folder) await rm(folder, { recursive: true, force: true });
});

interface Opened {
  readonly page: Page;
  /** Every URL asked for besides the file itself. */
  readonly requests: string[];
  /** Errors of the page and whatever its policy refused. */
  readonly complaints: string[];
}

/** The report as its reader opens it: from a file. */
async function open(
  design: Design,
  context: BrowserContextOptions = {},
  source = plotlySource,
): Promise<Opened> {
  const path = join(folder, `report-${Math.abs(design.title.length)}-${source.length}.html`);
  await writeFile(path, reportHtml(design, { plotlySource: source, generatedBy: 'Nullwise' }));
  const page = await (
    await browser.newContext({ viewport: { width: 1440, height: 900 }, ...context })
  ).newPage();
  const url = pathToFileURL(path).href;
  const requests: string[] = [];
  const complaints: string[] = [];
  page.on('request', (request) => {
    if (request.url() !== url) requests.push(request.url());
  });
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error' || message.type() === 'warning') complaints.push(message.text());
  });
  // A loaded machine takes a long time over the plotting library.
  page.setDefaultTimeout(110_000);
  await page.goto(url);
  if (source === plotlySource) await page.waitForSelector('#plot[data-drawn]');
  return { page, requests, complaints };
}

/** Whatever sticks out sideways, everything unfolded. */
async function tooWide(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const folded = [...document.querySelectorAll<HTMLDetailsElement>('details:not([open])')];
    for (const details of folded) details.open = true;
    const elements = [
      ...document.querySelectorAll(
        'html, h1, header, .figures, main > section, .scroll, .card, .card dd, li',
      ),
    ];
    const found = elements
      .filter((element) => element.scrollWidth > element.clientWidth + 1)
      .map(
        (element) =>
          `${element.tagName} ${element.className} ${element.scrollWidth} > ${element.clientWidth}`,
      );
    for (const details of folded) details.open = false;
    return found;
  });
}

const close = async ({ page }: Opened) => page.context().close();

describe('the report in a browser', () => {
  // One page for the tests of the sample design: the plotting library takes a browser seconds to read.
  let shared: Opened;
  beforeAll(async () => {
    shared = await open(sampleDesign(), { offline: true, colorScheme: 'light' });
  });
  afterAll(() => close(shared));

  test('opens from a file without a network, draws its plot, asks for nothing and complains of nothing', async () => {
    const { page, requests, complaints } = shared;
    const lines = await page.locator('#plot .scatterlayer .trace .js-line').count();
    expect(lines).toBeGreaterThanOrEqual(5);
    const ticks = await page.locator('#plot .xtick text').allTextContents();
    expect(ticks).toEqual(['20', '50', '100', '200', '500', '1k', '2k', '5k', '10k', '20k']);
    expect(await page.locator('.still').isVisible()).toBe(false);
    await page.mouse.move(700, 650);
    await page.locator('.legendtoggle').last().click();
    await page.waitForFunction(
      (before) => document.querySelectorAll('#plot .scatterlayer .trace .js-line').length > before,
      lines,
    );
    expect(requests).toEqual([]);
    expect(complaints).toEqual([]);
  });

  test('shows hostile text as text: nothing runs, nothing is added, nothing sticks out', {
    timeout: 120_000,
  }, async () => {
    const opened = await open(hostileDesign(), { viewport: { width: 390, height: 844 }, isMobile: true });
    const { page, requests, complaints } = opened;
    expect(await page.locator('h1').textContent()).toBe(cleanText(`simulated ${HOSTILE}`));
    expect(await page.locator('img').count()).toBe(0);
    expect(await page.locator('script').count()).toBe(3);
    expect(await page.evaluate(() => 'hit' in window)).toBe(false);
    expect(await page.locator('.card dd li').first().textContent()).toContain('<img src=x');
    expect(await tooWide(page)).toEqual([]);
    expect(requests).toEqual([]);
    expect(complaints).toEqual([]);
    await close(opened);
  });

  test('lets no number of a finding hide another, be the screen wide or narrow', {
    timeout: 120_000,
  }, async () => {
    const opened = await open(crowded());
    const { page } = opened;
    for (const width of [1440, 800, 390]) {
      await page.setViewportSize({ width, height: 844 });
      await page.waitForFunction((most) => {
        const plot = document.querySelector('#plot .main-svg');
        return (
          plot !== null &&
          Math.abs(plot.getBoundingClientRect().width - document.querySelector('#plot')!.clientWidth) < 2 &&
          plot.getBoundingClientRect().width < most
        );
      }, width);
      const apart = await page.locator('#plot .points path.point').evaluateAll((marks) => {
        const boxes = marks.map((mark) => mark.getBoundingClientRect());
        const middles = boxes.map(({ x, y, width: w, height }) => [x + w / 2, y + height / 2] as const);
        return middles.flatMap(([x, y], i) =>
          middles.slice(i + 1).map(([otherX, otherY]) => Math.hypot(x - otherX, y - otherY)),
        );
      });
      expect(apart.length).toBeGreaterThan(20);
      expect(Math.min(...apart), `${width} pixels`).toBeGreaterThanOrEqual(17);
    }
    await close(opened);
  });

  test('fits a screen 390 pixels wide', async () => {
    const { page } = shared;
    await page.setViewportSize({ width: 390, height: 844 });
    await page.waitForFunction(() => {
      const plot = document.querySelector('#plot .main-svg');
      return plot !== null && plot.getBoundingClientRect().width < 390;
    });
    expect(await tooWide(page)).toEqual([]);
    expect((await page.locator('#plot').boundingBox())!.width).toBeGreaterThan(300);
    expect(await page.locator('#plot .xtick text').allTextContents()).toHaveLength(10);
    await page.setViewportSize({ width: 1440, height: 900 });
  });

  test('follows the reader from light to dark, the plot with it', async () => {
    const { page } = shared;
    const look = () =>
      page.evaluate(() => ({
        page: getComputedStyle(document.documentElement).backgroundColor,
        plot: document.querySelector<SVGElement>('#plot .main-svg')!.style.backgroundColor,
      }));
    expect(await look()).toEqual({ page: 'rgb(244, 245, 242)', plot: 'rgb(255, 255, 255)' });
    await page.emulateMedia({ colorScheme: 'dark' });
    await page.waitForFunction(
      () =>
        document.querySelector<SVGElement>('#plot .main-svg')?.style.backgroundColor === 'rgb(22, 25, 27)',
    );
    expect((await look()).page).toBe('rgb(14, 16, 17)');
    await page.emulateMedia({ colorScheme: 'light' });
  });

  test('goes to paper with the drawing instead of the plot and with everything unfolded', async () => {
    const { page } = shared;
    expect(await page.locator('details:not([open])').count()).toBeGreaterThan(0);
    await page.emulateMedia({ media: 'print' });
    await page.evaluate(() => window.dispatchEvent(new Event('beforeprint')));
    expect(await page.locator('#plot').isVisible()).toBe(false);
    expect(await page.locator('.still svg').isVisible()).toBe(true);
    expect(await page.locator('details:not([open])').count()).toBe(0);
    const size = page.viewportSize()!;
    // A4 inside margins of a centimetre, at 96 pixels an inch.
    await page.setViewportSize({ width: 718, height: 1046 });
    const drawing = await page.locator('.still svg').evaluate((element) => {
      const { width, height, bottom } = element.getBoundingClientRect();
      const { viewBox } = element as SVGSVGElement;
      const scale = Math.min(width / viewBox.baseVal.width, height / viewBox.baseVal.height);
      const words = [...element.querySelectorAll('text')].filter(({ textContent }) => /\D/.test(textContent));
      const leastPx = Math.min(...words.map((word) => Number.parseFloat(getComputedStyle(word).fontSize)));
      return { wordsPt: scale * leastPx * 0.75, bottom: bottom + scrollY };
    });
    // Footnotes are set in 6 points: common practice, no published source.
    expect(drawing.wordsPt).toBeGreaterThan(5.5);
    expect(drawing.bottom).toBeLessThan(1046);
    await page.setViewportSize(size);
    await page.evaluate(() => window.dispatchEvent(new Event('afterprint')));
    expect(await page.locator('details[open]').count()).toBe(0);
    await page.emulateMedia({ media: null });
  });

  test('its policy refuses a script and a request that find their way in all the same', async () => {
    const refused = await shared.page.evaluate(async () => {
      const directives: string[] = [];
      document.addEventListener('securitypolicyviolation', (event) =>
        directives.push(event.effectiveDirective),
      );
      const place = document.createElement('div');
      place.innerHTML = '<img src="data:,x" onerror="window.hit = 1">';
      document.body.append(place);
      const script = document.createElement('script');
      script.textContent = 'window.hit = 1';
      document.body.append(script);
      await fetch('http://127.0.0.1:9/').catch(() => undefined);
      while (new Set(directives).size < 3) await new Promise((resolve) => setTimeout(resolve, 20));
      return { directives, hit: 'hit' in window };
    });
    expect(refused.hit).toBe(false);
    expect(refused.directives).toEqual(
      expect.arrayContaining(['script-src-attr', 'script-src-elem', 'connect-src']),
    );
  });

  test.each([
    ['is missing', ''],
    ['fails', 'var Plotly = { react: () => { throw new Error("no"); } };'],
  ])('shows the drawing where the plotting library %s', async (_, source) => {
    const opened = await open(sampleDesign(), {}, source);
    const { page } = opened;
    await page.waitForFunction(() => !document.querySelector('#plot-figure')?.classList.contains('live'));
    expect(await page.locator('.still svg').isVisible()).toBe(true);
    expect(await page.locator('#plot').isVisible()).toBe(false);
    await close(opened);
  });
});

describe('the drawing in a browser', () => {
  const parse = async (svg: string) => {
    const page = await browser.newPage();
    const result = await page.evaluate((source) => {
      const tree = new DOMParser().parseFromString(source, 'image/svg+xml');
      return {
        fault: tree.querySelector('parsererror')?.textContent ?? null,
        title: tree.querySelector('title')?.textContent ?? null,
        names: [...new Set([...tree.querySelectorAll('*')].map((element) => element.localName))].sort(),
      };
    }, svg);
    await page.close();
    return result;
  };

  test('is well-formed XML, also with hostile text in it', async () => {
    const plain = await parse(beforeAfterSvg(sampleDesign()));
    const hostile = await parse(beforeAfterSvg(hostileDesign()));
    expect(plain.fault).toBeNull();
    expect(hostile.fault).toBeNull();
    expect(hostile.names).toEqual(plain.names);
    expect(hostile.title).toContain('<img src=x');
  });

  test('clips no text at its edges and lets no two texts touch', async () => {
    const page = await browser.newPage({ viewport: { width: 1000, height: 900 } });
    await page.setContent(`<body style="margin:0">${beforeAfterSvg(sampleDesign())}</body>`);
    const faults = await page.evaluate(() => {
      const frame = document.querySelector('svg')!.getBoundingClientRect();
      const texts = [...document.querySelectorAll('svg text')];
      const boxes = texts.map((text) => ({
        text: text.textContent ?? '',
        box: text.getBoundingClientRect(),
      }));
      const found: string[] = [];
      boxes.forEach(({ text, box }, i) => {
        if (box.left < frame.left || box.right > frame.right || box.bottom > frame.bottom)
          found.push(`clipped: ${text}`);
        for (const other of boxes.slice(0, i)) {
          const overlapX = Math.min(box.right, other.box.right) - Math.max(box.left, other.box.left);
          const overlapY = Math.min(box.bottom, other.box.bottom) - Math.max(box.top, other.box.top);
          if (overlapX > 1 && overlapY > 3) found.push(`${other.text} / ${text}`);
        }
      });
      return found;
    });
    expect(faults).toEqual([]);
    await page.close();
  });
});

test('a name of an option breaks nowhere, and on a narrow page no word lies on the numbers of the findings', async () => {
  const { page } = await open(sampleDesign(), { viewport: { width: 390, height: 844 } });
  const codes = page.locator('#beyond code');
  expect(await codes.allTextContents()).toEqual(expect.arrayContaining(['--setup', '--vary']));
  const lines = await codes.evaluateAll((all) => all.map((code) => code.getClientRects().length));
  expect(lines.every((count) => count === 1)).toBe(true);
  expect(
    await codes.evaluateAll((all) => all.map((code) => getComputedStyle(code).whiteSpace)),
  ).not.toContain('normal');
  const words = page.locator('#plot .annotation-text');
  expect(await words.count()).toBe(0);
  expect(await page.locator('figcaption').first().textContent()).toContain('alone (shaded)');
  await page.setViewportSize({ width: 1440, height: 900 });
  await words.first().waitFor();
  await page.context().close();
});
