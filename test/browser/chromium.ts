import { existsSync } from 'node:fs';
import { type Browser, chromium } from 'playwright-core';
import { findChromium } from './ensureChromium.mjs';

/**
 * Path of the Chromium that the browser tests drive: `CHROMIUM_PATH`, else whatever `findChromium` knows of (its own
 * variable, the PATH, the usual places, the test library's own). Throws an Error that says what to install.
 */
export function chromiumPath(env: NodeJS.ProcessEnv = process.env, find = findChromium): string {
  const named = env.CHROMIUM_PATH;
  if (named !== undefined && named !== '') {
    if (existsSync(named)) return named;
    throw new Error(
      `CHROMIUM_PATH names ${named}, where there is nothing; expected a Chromium's executable file.`,
    );
  }
  const found = find();
  if (found !== undefined) return found;
  throw new Error(
    'The browser tests need a Chromium and found none. Install one with "apt-get install chromium" (Debian, as root)\n' +
      'or "npx playwright-core install chromium" (elsewhere), or name an existing one in CHROMIUM_PATH.',
  );
}

/** What the test library switches off, since only the last such switch counts, and more. */
export const SWITCHED_OFF = [
  'AvoidUnnecessaryBeforeUnloadCheckSync',
  'DestroyProfileOnBrowserClose',
  'HttpsUpgrades',
  'HttpsFirstBalancedModeAutoEnable',
  'LensOverlay',
  'MediaRouter',
  'PaintHolding',
  'ThirdPartyStoragePartitioning',
  'AvoidCorsURLLoaderRestartOnRedirect',
  'TcpPortRandomizationWin',
  'OptimizationHints',
  'NetworkTimeServiceQuerying',
  'AimEnabled',
  'PreconnectToSearch',
  'msForceBrowserSignIn',
  'msEdgeUpdateLaunchServicesPreferredVersion',
  // With each window two pages for its address bar, which together cost as much as a page of ours.
  'WebUIOmniboxPopup',
  'WebUIOmniboxAimPopup',
];

/** A headless Chromium that asks nothing of the network by itself. Close it after the tests. */
export function launchChromium(): Promise<Browser> {
  return chromium.launch({
    executablePath: chromiumPath(),
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-background-networking',
      `--disable-features=${SWITCHED_OFF.join(',')}`,
    ],
  });
}
