import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { request } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { POLICY, WORKER_POLICY } from '../../cli/webServer.js';
import { servedApp } from './servedApp.js';
import {
  accessibilityFaults,
  addFiles,
  demoFile,
  handedOver,
  openApp,
  root,
  settled,
  sticksOut,
} from './webApp.js';

const app = servedApp();
let folder: string;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'worksheet-test-'));
});

afterAll(async () => {
  if (folder) await rm(folder, { recursive: true, force: true });
});

async function file(name: string, content: string): Promise<string> {
  const path = join(folder, name);
  await writeFile(path, content);
  return path;
}

const gain = (page: Page) => page.getByLabel('Gain of filter A').inputValue();

async function typeGain(page: Page, text: string): Promise<void> {
  await page.getByLabel('Gain of filter A').fill(text);
  await page.getByLabel('Gain of filter A').press('Enter');
}

const projectOf = (page: Page) =>
  handedOver(page, async () => {
    await page.locator('.menu summary').click();
    await page.getByRole('button', { name: 'Save as a file' }).click();
    await page.locator('.menu summary').click();
  });

describe('for everyone', () => {
  test.each(['light', 'dark'] as const)('axe finds no fault when the page is %s', async (colorScheme) => {
    const { page } = await openApp(app.browser, app.address, {
      colorScheme,
      plotting: colorScheme === 'light',
    });
    await settled(page);
    await page.waitForSelector('.plot[data-drawn]');
    await page.getByRole('button', { name: 'Draw it on the chart' }).click();
    await page.getByRole('button', { name: 'Hold it against a tolerance mask' }).click();
    await page.locator('.finding-head').first().click();
    await page.evaluate(() => {
      for (const details of document.querySelectorAll('details')) details.open = true;
    });
    await settled(page);
    expect(await accessibilityFaults(page)).toEqual([]);
    await page.context().close();
  });

  test('at 390 pixels nothing sticks out sideways, and a filter can be changed', async () => {
    const { page } = await openApp(app.browser, app.address, {
      viewport: { width: 390, height: 844 },
      isMobile: true,
      hasTouch: true,
    });
    await page.locator('.finding-head').first().click();
    expect(await sticksOut(page)).toEqual([]);
    const curves = page.locator('#measured .scroll');
    expect(await curves.evaluate((box) => box.scrollWidth - box.clientWidth)).toBeLessThanOrEqual(0);
    await typeGain(page, '-2.5');
    expect(await gain(page)).toBe('-2.5');
    expect((await page.locator('.overlay').boundingBox())!.width).toBeGreaterThan(320);
    await page.context().close();
  });

  test('the switch goes before the system, and the numbers of the chart stand in a table', async () => {
    const { page } = await openApp(app.browser, app.address, { colorScheme: 'light' });
    const ground = () => page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor);
    const light = await ground();
    await page.getByRole('button', { name: 'Dark' }).click();
    expect(await ground()).not.toBe(light);
    await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
    expect(await ground()).toBe('rgb(255, 255, 255)');
    // On paper there is nothing to press.
    const pressed = await page.locator('main button:visible').allTextContents();
    expect(pressed.filter((words) => !/^[A-Z]$|(Dip|Peak) at/.test(words))).toEqual([]);
    expect(await page.getByRole('heading', { name: 'Hear it' }).isVisible()).toBe(false);
    await page.emulateMedia({ media: 'screen' });
    await page.getByText('The curves as a table').click();
    expect(await page.locator('details[open] table').first().locator('tbody tr').count()).toBeGreaterThan(20);
    await page.locator('.zone-tab').first().focus();
    expect(await page.locator('.zone-reason').textContent()).toMatch(/left alone.*boost|left alone.*Move/s);
    await page.context().close();
  });
});

describe('what comes from files', () => {
  test('stays text: names, comments, surfaces and notes put nothing into the page', async () => {
    const hostile = '<img src=x onerror=window.hit=1>"\'&';
    const name = `${hostile.replace(/["/]/g, '')}.txt`;
    const rows = Array.from(
      { length: 200 },
      (_, i) => `${(20 * 2 ** (i / 20)).toFixed(2)} ${(80 + Math.sin(i / 5)).toFixed(2)}`,
    );
    const measurement = await file(name, `# ${hostile}\n# simulated\n${rows.join('\n')}\n`);
    const setup = await file(
      'setup.json',
      JSON.stringify({
        microphoneDistance: '1 m',
        surfaces: [{ name: hostile, speakerDistance: '29 cm', microphoneDistance: '129 cm' }],
      }),
    );
    const { page, strangers, complaints } = await openApp(app.browser, app.address);
    await addFiles(page, [measurement, setup]);
    await page.waitForFunction(() => document.querySelectorAll('.files li').length === 2);
    await settled(page);
    await page.getByLabel('Name of this worksheet').fill(hostile);
    await page.getByLabel('Name of this worksheet').press('Enter');
    expect(await page.locator('.file-name').first().textContent()).toContain('<img src=x');
    expect(await page.locator('#sheet').textContent()).toContain('<img src=x onerror=window.hit=1>"\'&');
    expect(await page.locator('img').count()).toBe(0);
    expect(await page.evaluate(() => 'hit' in window)).toBe(false);
    expect(strangers).toEqual([]);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  test('is refused with a reason where it is broken, and the old state stays', async () => {
    const { page } = await openApp(app.browser, app.address);
    await typeGain(page, '-2.2');
    const before = await projectOf(page);
    const broken = { ...JSON.parse(before), options: { bands: 400 }, overrules: 'none' };
    await addFiles(page, [await file('broken.json', JSON.stringify(broken, null, 1))]);
    const alert = page.locator('.problems');
    await alert.waitFor();
    const words = (await alert.textContent())!;
    expect(words).toMatch(/bands.*400/s);
    expect(words).toMatch(/overrules/);
    expect(await projectOf(page)).toBe(before);
    await addFiles(page, [await file('nonsense.txt', 'no rows at all\n')]);
    await page.waitForFunction(() =>
      /nonsense\.txt/.test(document.querySelector('.problems')?.textContent ?? ''),
    );
    expect(await gain(page)).toBe('-2.2');
    await page.context().close();
  });
});

test('what was not taken is said where the user is, until it has been understood', async () => {
  const { page } = await openApp(app.browser, app.address, { viewport: { width: 390, height: 844 } });
  await settled(page);
  await page.locator('[data-takes="after"] button').first().scrollIntoViewIfNeeded();
  const chooser = page.getByLabel('Add what was measured with the filters in').last();
  await chooser.setInputFiles(await file('nothing.txt', 'no rows at all\n'));
  const problem = page.locator('.problems');
  await problem.waitFor();
  const { y, height } = (await problem.boundingBox())!;
  expect(y).toBeGreaterThan(0);
  expect(y + height).toBeLessThanOrEqual(844);
  expect(await accessibilityFaults(page)).toEqual([]);
  await page.getByRole('button', { name: 'Understood' }).click();
  expect(await problem.count()).toBe(0);
  // What stays wrong can be put aside, and still stands on top.
  while ((await page.locator('.filters tbody tr').count()) < 9)
    await page.getByRole('button', { name: 'Add a filter' }).click();
  await page.getByLabel('They are for').selectOption('five-band-48k');
  await page.getByText(/found 9 filters, expected no more/).waitFor();
  await page.locator('.afloat').getByRole('button', { name: 'Understood' }).click();
  expect(await page.locator('.afloat').count()).toBe(0);
  expect(await problem.textContent()).toContain('found 9 filters');
  await page.context().close();
});

describe('nothing is lost', () => {
  test('of what is being typed while the sheet goes on working', async () => {
    const { page } = await openApp(app.browser, app.address);
    await page.getByLabel('Bands').fill('5');
    await page.getByLabel('Bands').press('Enter');
    const name = page.getByLabel('Name of this worksheet');
    await name.fill('Half writ');
    await settled(page);
    expect(await name.inputValue()).toBe('Half writ');
    await name.press('Escape');
    expect(await name.inputValue()).toMatch(/^Demo/);
    await page.context().close();
  });

  test('by a reload in the middle of a drag, nor by one just after a change', async () => {
    const { page } = await openApp(app.browser, app.address);
    await page.getByLabel('Most boost').fill('4 dB');
    await page.getByLabel('Most boost').press('Enter');
    // A fit that lands meanwhile takes the pennant from under the pointer.
    await settled(page);
    const pennant = page.locator('.pennant').first();
    const box = (await pennant.boundingBox())!;
    await page.mouse.move(box.x + 8, box.y + 12);
    await page.mouse.down();
    await page.mouse.move(box.x + 40, box.y - 20, { steps: 4 });
    // A pull takes effect with the next frame.
    await page.getByLabel('Hold filter A').and(page.locator(':checked')).waitFor();
    await settled(page);
    const pulled = await gain(page);
    await page.reload();
    await page.waitForSelector('.overlay .curve-expected');
    expect(await page.getByLabel('Most boost').inputValue()).toBe('4 dB');
    expect(await page.getByLabel('Hold filter A').isChecked()).toBe(true);
    expect(await gain(page)).toBe(pulled);
    await settled(page);

    await page.getByLabel('Name of this worksheet').fill('Kept at once');
    await page.getByLabel('Name of this worksheet').press('Enter');
    await page.reload();
    await page.waitForSelector('.overlay .curve-expected');
    expect(await page.getByLabel('Name of this worksheet').inputValue()).toBe('Kept at once');
    await page.context().close();
  });

  test('when several worksheets are kept: each comes back as it was left', async () => {
    const { page } = await openApp(app.browser, app.address);
    await page.getByLabel('Name of this worksheet').fill('First');
    await page.getByLabel('Name of this worksheet').press('Enter');
    await page.locator('.menu summary').click();
    await page.getByText('Kept in this browser.', { exact: true }).waitFor();
    await page.getByRole('button', { name: 'New, empty' }).click();
    await page.waitForFunction(() => document.querySelectorAll('.files li').length === 0);
    expect(await page.locator('#conclusion').textContent()).toContain('Drop a measurement');
    await page.locator('.menu summary').click();
    await page.locator('.kept').getByRole('button', { name: 'First', exact: true }).click();
    await page.waitForSelector('.overlay .curve-expected');
    expect(await page.getByLabel('Name of this worksheet').inputValue()).toBe('First');
    await page.context().close();
  });
});

test('the one file opens from disk, reads files, and asks for nothing anywhere', async () => {
  const path = `${root}dist/web/nullwise.html`;
  const { page, strangers, complaints } = await openApp(app.browser, pathToFileURL(path).href, {
    offline: true,
    plotting: true,
  });
  await page.waitForSelector('.plot[data-drawn]');
  await addFiles(page, [demoFile('position-1.txt')]);
  await page.waitForFunction(() => document.querySelectorAll('.files li').length === 1);
  await settled(page);
  expect(await page.locator('#conclusion').textContent()).toMatch(/RMS between/);
  expect(strangers).toEqual([]);
  expect(complaints).toEqual([]);
  const [policy] = /Content-Security-Policy" content="[^"]*/.exec(await readFile(path, 'utf8')) ?? [];
  expect(policy).toContain("default-src 'none'");
  expect(policy).not.toMatch(/unsafe-eval|https?:|connect-src/);
  await page.context().close();
});

describe('the server', () => {
  const answered = (path: string, headers: Record<string, string> = {}, method = 'GET') =>
    new Promise<{ status: number; body: string; headers: Record<string, unknown> }>((resolve, reject) => {
      const { port, host } = new URL(app.address);
      const asked = request(
        { host: '127.0.0.1', port, path, method, headers: { host, ...headers } },
        (response) => {
          let body = '';
          response.on('data', (chunk) => {
            body += chunk;
          });
          response.on('end', () =>
            resolve({ status: response.statusCode!, body, headers: response.headers }),
          );
        },
      );
      asked.on('error', reject);
      asked.end();
    });

  test('gives the files of the app and nothing else, to nobody who calls it by another name', async () => {
    expect((await answered('/')).body).toContain('<title>Nullwise');
    for (const path of [
      '/../package.json',
      '/%2e%2e/package.json',
      '/assets',
      '/assets/',
      '/index.html/..',
      '//etc/passwd',
    ]) {
      expect((await answered(path)).status, path).toBe(404);
    }
    expect((await answered('/', { host: 'evil.example' })).status).toBe(403);
    expect((await answered('/', { host: 'evil.example:8417' })).status).toBe(403);
    expect((await answered('/', {}, 'POST')).status).toBe(405);
    const { headers } = await answered('/', {}, 'HEAD');
    expect(headers['content-security-policy']).toBe(POLICY);
    expect(headers['x-content-type-options']).toBe('nosniff');
    expect(POLICY).not.toMatch(/unsafe/);
  });

  test('lets a worker compile to WebAssembly, and nothing else; the page not even that', async () => {
    const { page, complaints } = await openApp(app.browser, app.address);
    await addFiles(page, [demoFile('position-1.txt')]);
    await settled(page);
    expect(complaints).toEqual([]);
    // Later, since the policy does not bind what the debugger evaluates at once.
    const compiles = () =>
      new Promise((resolve) => {
        const able = (action: () => unknown) => {
          try {
            action();
            return true;
          } catch {
            return false;
          }
        };
        setTimeout(() =>
          resolve({
            program: able(() => new WebAssembly.Module(Uint8Array.of(0, 97, 115, 109, 1, 0, 0, 0))),
            script: able(() => new Function('return 1')()),
          }),
        );
      });
    const [worker] = page.workers();
    expect(await worker!.evaluate(compiles)).toEqual({ program: true, script: false });
    expect(await page.evaluate(compiles)).toEqual({ program: false, script: false });
    const path = new URL(worker!.url()).pathname;
    expect((await answered(path, {}, 'HEAD')).headers['content-security-policy']).toBe(WORKER_POLICY);
    expect(WORKER_POLICY.replace("'wasm-unsafe-eval' ", '').replace(" 'wasm-unsafe-eval'", '')).toBe(POLICY);
    await page.context().close();
  });
});

test('on paper the frequencies have their unit, and nothing asks to be pulled or dropped', async () => {
  const { page } = await openApp(app.browser, app.address);
  await settled(page);
  const asked = ['; point at one to learn why', ': pull them', 'One of your own: how its file looks'];
  const seen = () => Promise.all(asked.map((words) => page.getByText(words).isVisible()));
  expect(await seen()).toEqual([true, true, true]);
  await page.emulateMedia({ media: 'print' });
  expect(await seen()).toEqual([false, false, false]);
  expect(await page.getByRole('columnheader', { name: 'Frequency (Hz)' }).isVisible()).toBe(true);
  await page.context().close();
});

test('on paper stands what a reader of it can use, on few pages, with a drawing made for it', async () => {
  const { page } = await openApp(app.browser, app.address);
  await settled(page);
  const named = 'A name that is longer than the field which it is typed into can show at once, '
    .repeat(2)
    .trim();
  await page.getByLabel('Name of this worksheet').fill(named);
  await page.getByLabel('Name of this worksheet').press('Enter');
  await page.getByRole('heading', { name: 'Where the speaker stands' }).scrollIntoViewIfNeeded();
  expect(await page.locator('.paper-chart svg').count()).toBe(0);
  const pages = (await page.pdf({ format: 'A4' })).toString('latin1').match(/\/Type\s*\/Page\b/g);
  expect(pages!.length).toBeGreaterThan(1);
  expect(pages!.length).toBeLessThan(6);
  await page.evaluate(() => dispatchEvent(new Event('beforeprint')));
  await page.emulateMedia({ media: 'print' });
  expect(await page.locator('.paper-chart svg').isVisible()).toBe(true);
  expect(await page.locator('.board-box').isVisible()).toBe(false);
  expect(await page.locator('h1 .paper-only').textContent()).toBe(named);
  // The advice, not what it rests on; and where each surface cancels.
  expect(await page.locator('.finding.move .finding-body b').first().isVisible()).toBe(true);
  expect(await page.locator('.finding-body li').first().isVisible()).toBe(false);
  expect(await page.locator('.placement-strip .number-ground').first().isVisible()).toBe(true);
  expect(await page.getByRole('heading', { name: 'Hand it over' }).isVisible()).toBe(false);
  expect(await page.getByText('Before you switch it in').isVisible()).toBe(true);
  await page.evaluate(() => dispatchEvent(new Event('afterprint')));
  expect(await page.locator('.paper-chart svg').count()).toBe(0);
  await page.context().close();
});
