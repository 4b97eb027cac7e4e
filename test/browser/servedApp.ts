import type { Browser } from 'playwright-core';
import { afterAll, beforeAll } from 'vitest';
import { launchChromium } from './chromium.js';
import { serveWeb } from './webApp.js';

/** A browser, and where it finds the app; there while the tests of a file run. */
export interface ServedApp {
  readonly browser: Browser;
  readonly address: string;
}

export function servedApp(): ServedApp {
  let browser: Browser | undefined;
  let served: Awaited<ReturnType<typeof serveWeb>> | undefined;
  beforeAll(async () => {
    browser = await launchChromium();
    served = await serveWeb();
  });
  afterAll(async () => {
    await browser?.close();
    served?.close();
  });
  return {
    get browser() {
      return browser!;
    },
    get address() {
      return served!.address;
    },
  };
}
