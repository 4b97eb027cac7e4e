import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { build } from 'vite';

/** Secure for the browser, so that everything a page may use is there; nothing is asked of a network. */
export const PAGE_URL = 'http://localhost/';

/**
 * A module and what it imports as one script that leaves its exports in `window[name]`.
 *
 * @param entry path from this folder
 */
export async function bundled(entry: string, name: string): Promise<string> {
  const result = await build({
    configFile: false,
    logLevel: 'warn',
    define: { 'process.env.NODE_ENV': '"production"' },
    oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
    build: {
      write: false,
      minify: false,
      lib: { entry: fileURLToPath(new URL(entry, import.meta.url)), name, formats: ['iife'] },
      rolldownOptions: { output: { codeSplitting: false } },
    },
  });
  const [output] = Array.isArray(result) ? result : [result];
  if (!output || !('output' in output)) throw new Error('the build gave no output');
  const [chunk] = output.output;
  return chunk.code;
}

/** A page that holds nothing but the script. It may be reloaded, and storage keeps what it is given. */
export async function pageWith(browser: Browser, script: string, body = ''): Promise<Page> {
  const page = await (await browser.newContext()).newPage();
  await page.context().route('**/*', (route) =>
    route.request().url() === PAGE_URL
      ? route.fulfill({
          contentType: 'text/html; charset=utf-8',
          body: `<!doctype html><html lang="en"><meta name="viewport" content="width=device-width"><title>Parts</title><body>${body}<script>${script.replaceAll('</script', '<\\/script')}</script>`,
        })
      : route.abort(),
  );
  await page.goto(PAGE_URL);
  return page;
}
