import { chromium } from 'playwright-core';
import { expect, test } from 'vitest';
import { chromiumPath, launchChromium, SWITCHED_OFF } from './chromium.js';

test('CHROMIUM_PATH goes before every other place', () => {
  expect(chromiumPath({ CHROMIUM_PATH: process.execPath }, () => '/elsewhere')).toBe(process.execPath);
});

test('a CHROMIUM_PATH without a file behind it is refused with the path in the message', () => {
  expect(() => chromiumPath({ CHROMIUM_PATH: '/no/such/browser' }, () => '/elsewhere')).toThrow(
    /CHROMIUM_PATH names \/no\/such\/browser/,
  );
});

test('where no Chromium is found the message says what to install', () => {
  expect(() => chromiumPath({}, () => undefined)).toThrow(/apt-get install chromium.*\n.*CHROMIUM_PATH/);
});

test('what the test library switches off stays off', async () => {
  const browser = await chromium.launch({
    executablePath: chromiumPath(),
    args: ['--no-sandbox', '--enable-automation'],
  });
  const session = await browser.newBrowserCDPSession();
  const { arguments: all } = await session.send('Browser.getBrowserCommandLine');
  await browser.close();
  const off = all
    .findLast((each) => each.startsWith('--disable-features='))!
    .replace(/^.*=/, '')
    .split(',');
  expect(off.length).toBeGreaterThan(5);
  expect(SWITCHED_OFF).toEqual(expect.arrayContaining(off));
});

test('no page for an address bar is opened beside ours', async () => {
  const browser = await launchChromium();
  const page = await browser.newPage();
  // Such pages come with the window, some of them a little later.
  await page.evaluate(() => new Promise((resolve) => setTimeout(resolve, 500)));
  const { targetInfos } = await (await browser.newBrowserCDPSession()).send('Target.getTargets');
  await browser.close();
  const urls = targetInfos.map(({ url }) => url);
  expect(urls).toContain('about:blank');
  expect(urls.filter((url) => url.includes('omnibox'))).toEqual([]);
});
