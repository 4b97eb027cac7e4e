import { fileURLToPath } from 'node:url';
import { defineConfig, type Plugin } from 'vite';
import { viteSingleFile } from 'vite-plugin-singlefile';

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url));

/** The one file is called what a person would look for. */
const renamed = (from: string, to: string): Plugin => ({
  name: 'renamed',
  enforce: 'post',
  generateBundle(_, bundle) {
    const page = bundle[from];
    if (page) page.fileName = to;
  },
});

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
    resolve: single ? { alias: [{ find: /^(.*\/platform)\/served\.js$/, replacement: '$1/single.ts' }] } : {},
    plugins: single
      ? [viteSingleFile({ removeViteModuleLoader: true }), renamed('index.html', 'nullwise.html')]
      : [],
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
      ...(single && { assetsInlineLimit: 100_000_000 }),
    },
  };
});
