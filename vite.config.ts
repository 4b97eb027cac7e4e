import { createHash } from 'node:crypto';
import { fileURLToPath } from 'node:url';
import { defineConfig, type Plugin } from 'vite';
import { viteSingleFile } from 'vite-plugin-singlefile';
import { readDesignRequest } from './cli/readRequest.js';
import { noticesOf } from './docs/make/licences/noticesOf.js';
import demoOptions from './fixtures/demo/options.json' with { type: 'json' };
import { design } from './src/design.js';

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url));

const DEMO = 'virtual:demo-design';

/** The demo worked out when the app is built, so that a first visit need not wait for it. */
const demoDesign = (): Plugin => ({
  name: 'demo-design',
  resolveId: (id) => (id === DEMO ? `\0${DEMO}` : undefined),
  load(id) {
    if (id !== `\0${DEMO}`) return undefined;
    const file = (name: string) => here(`fixtures/demo/${name}`);
    const request = readDesignRequest(
      [1, 2, 3, 4].map((n) => file(`position-${n}.txt`)),
      { setup: file('setup.json'), moved: ['moved-4-cm.txt', 'moved.txt'].map(file), ...demoOptions },
    );
    return `export default ${JSON.stringify(design({ ...request, againstBands: true }))};`;
  },
});

const notices = () => noticesOf(here('.'));

/** Most licences ask that their words go wherever the code goes. */
const licenceNotices = (): Plugin => ({
  name: 'licence-notices',
  generateBundle() {
    this.emitFile({ type: 'asset', fileName: 'licences.txt', source: notices() });
  },
});

/**
 * The one file is called what a person would look for, and says itself that only its own script may run and that nothing
 * may be asked of anywhere.
 */
const oneFile = (from: string, to: string): Plugin => ({
  name: 'one-file',
  enforce: 'post',
  generateBundle: {
    // After everything has been put into the page.
    order: 'post',
    handler(_, bundle) {
      const page = bundle[from];
      if (page?.type !== 'asset') return;
      const html = String(page.source);
      const [, script = ''] = /<script[^>]*>(.*)<\/script>/s.exec(html) ?? [];
      const hash = createHash('sha256').update(script).digest('base64');
      const policy = [
        "default-src 'none'",
        // The worker and the plotting library are texts in the script, which the page hands on as blobs.
        `script-src 'sha256-${hash}' blob:`,
        'worker-src blob:',
        "style-src 'unsafe-inline'",
        'img-src data: blob:',
        'media-src blob:',
        "base-uri 'none'",
        "form-action 'none'",
      ].join('; ');
      page.fileName = to;
      page.source = html
        .replace(
          '<head>',
          () => `<head>\n    <meta http-equiv="Content-Security-Policy" content="${policy}" />`,
        )
        // Two hyphens would end the comment.
        .replace(/<\/html>\s*$/, () => `</html>\n<!--\n${notices().replace(/-(?=-)|-$/gm, '- ')}\n-->\n`);
    },
  },
});

const singleAlias = [
  { find: /^(.*\/platform)\/served\.js$/, replacement: '$1/single.ts' },
  { find: /^.*\/webAssemblyEngine\.js$/, replacement: here('web/platform/withoutWebAssembly.ts') },
];

/**
 * `vite build` makes dist/web for `nullwise web`; `vite build --mode single` adds dist/web/nullwise.html, which holds
 * everything, the worker and the plotting library included, and opens from disk.
 */
export default defineConfig(({ mode }) => {
  const single = mode === 'single';
  return {
    root: here('web'),
    base: './',
    publicDir: false,
    oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
    define: {
      __BUILD__: JSON.stringify(createHash('sha256').update(String(Date.now())).digest('hex').slice(0, 12)),
    },
    resolve: single ? { alias: singleAlias } : {},
    plugins: [
      demoDesign(),
      ...(single
        ? [viteSingleFile({ removeViteModuleLoader: true }), oneFile('index.html', 'nullwise.html')]
        : [licenceNotices()]),
    ],
    worker: single
      ? { format: 'iife', rollupOptions: { output: { codeSplitting: false } } }
      : { format: 'es' },
    build: {
      outDir: here('dist/web'),
      emptyOutDir: !single,
      target: 'es2022',
      modulePreload: false,
      reportCompressedSize: false,
      chunkSizeWarningLimit: 10_000,
      rolldownOptions: { checks: { pluginTimings: false } },
      ...(single && { assetsInlineLimit: 100_000_000 }),
    },
  };
});
