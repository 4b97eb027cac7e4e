import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AddressInfo } from 'node:net';
import { fileURLToPath } from 'node:url';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { readWebFiles } from '../../cli/webFiles.js';
import { webServer } from '../../cli/webServer.js';

export const root = fileURLToPath(new URL('../../', import.meta.url));
export const demoFile = (name: string) => `${root}fixtures/demo/${name}`;

/** The app from its own server, on a port of its own. */
export function serveWeb(): Promise<{ readonly address: string; readonly close: () => void }> {
  const server = webServer(readWebFiles(`${root}dist/web`));
  return new Promise((resolve) => {
    server.listen(0, '127.0.0.1', () => {
      const { port } = server.address() as AddressInfo;
      resolve({
        address: `http://127.0.0.1:${port}/`,
        close: () => {
          server.close();
          server.closeAllConnections();
        },
      });
    });
  });
}

/** A page with the app, and whatever went wrong or out of the machine on it. */
export interface OpenApp {
  readonly page: Page;
  /** Requests to anywhere but the app's own address, blobs and data. */
  readonly strangers: string[];
  /** Faults of the page, and what its policy refused. */
  readonly complaints: string[];
}

/** A busy machine takes long over a fit and over the plotting library; how fast the page is, the bench says. */
const PATIENCE_MS = 120_000;

/** The plotting library takes a browser seconds to read; most tests look at other things than the grid behind the curves. */
const NO_PLOTTING = 'window.Plotly = { react: async (element) => Object.assign(element, { on() {} }) };';

/** @param options.plotting true where the plotting library itself is wanted */
export async function openApp(
  browser: Browser,
  address: string,
  { plotting = false, ...options }: BrowserContextOptions & { readonly plotting?: boolean } = {},
): Promise<OpenApp> {
  const context = await browser.newContext({
    viewport: { width: 1440, height: 900 },
    acceptDownloads: true,
    ...options,
  });
  const page = await context.newPage();
  page.setDefaultTimeout(PATIENCE_MS);
  const strangers: string[] = [];
  const complaints: string[] = [];
  context.on('request', (request) => {
    const url = request.url();
    if (!url.startsWith(address) && !/^(blob|data):/.test(url)) strangers.push(url);
  });
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  if (!plotting)
    await page.route(/plotly/, (route) =>
      route.fulfill({ contentType: 'text/javascript', body: NO_PLOTTING }),
    );
  await page.goto(address);
  await page.waitForSelector('.overlay .curve-expected');
  return { page, strangers, complaints };
}

/** Waits until nothing is being worked on any more; what was asked for last shows on the page with the next frames. */
export async function settled(page: Page): Promise<void> {
  await page.evaluate(
    () =>
      new Promise<void>((resolve) =>
        requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(resolve))),
      ),
  );
  await page.waitForFunction(() => document.querySelector('.pulse, .coming') === null);
}

export async function addFiles(
  page: Page,
  paths: Parameters<ReturnType<Page['locator']>['setInputFiles']>[0],
): Promise<void> {
  await page.locator('input[aria-label="Files to add"]').setInputFiles(paths);
}

/** Presses a button of the last part and gives the text of the file that comes of it. */
export async function handedOver(page: Page, press: () => Promise<void>): Promise<string> {
  const waiting = page.waitForEvent('download');
  try {
    const [download] = await Promise.all([waiting, press()]);
    return readFileSync(await download.path(), 'utf8');
  } catch (error) {
    throw new Error(`no file came; ${await stateInWords(page)}`, { cause: error });
  }
}

/** What the app is at, and what it lets be handed over. */
async function stateInWords(page: Page): Promise<string> {
  const working = await page.locator('.working').textContent();
  const lead = await page.locator('#hand-over').textContent();
  const open = await page.locator('#hand-over button:enabled').allTextContents();
  return `the app says "${working}" and "${lead?.slice(0, 120)}", to be pressed: ${open.join(', ') || 'nothing'}`;
}

/** What axe finds wrong, each as one line. */
export async function accessibilityFaults(page: Page): Promise<string[]> {
  const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
  // Evaluated by the debugger, which the page's policy does not bind.
  await page.evaluate(axe);
  return page.evaluate(async () => {
    const run = (window as unknown as { axe: { run: (options: object) => Promise<AxeResult> } }).axe.run;
    interface AxeResult {
      readonly violations: readonly {
        readonly id: string;
        readonly nodes: readonly { readonly html: string; readonly failureSummary?: string }[];
      }[];
    }
    const { violations } = await run({ resultTypes: ['violations'] });
    return violations.flatMap(({ id, nodes }) =>
      nodes.map(({ html, failureSummary }) => `${id}: ${html.slice(0, 160)} ${failureSummary ?? ''}`),
    );
  });
}

/** Elements that stick out of the page sideways, everything unfolded. */
export async function sticksOut(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    for (const details of document.querySelectorAll<HTMLDetailsElement>('main details')) details.open = true;
    const width = document.documentElement.clientWidth;
    if (document.documentElement.scrollWidth <= width) return [];
    return [...document.querySelectorAll('body *')]
      .filter((element) => element.getBoundingClientRect().right > width + 1 && !element.closest('.scroll'))
      .map((element) => `${element.tagName} ${element.className}`);
  });
}
