import { defineConfig } from 'vitest/config';

const include = ['test/**/*.test.{ts,tsx}'];
const cli = ['test/cli/**/*.test.ts'];
const app = ['test/browser/web*.test.ts'];

export default defineConfig({
  test: {
    testTimeout: 60_000,
    hookTimeout: 120_000,
    maxWorkers: 2,
    projects: [
      { extends: true, test: { name: 'src', include, exclude: [...cli, ...app] } },
      // Runs the built program, so it is built before, and only for these.
      {
        extends: true,
        test: { name: 'cli', include: cli, globalSetup: 'test/cli/buildOnce.ts', testTimeout: 180_000 },
      },
      {
        extends: true,
        test: {
          name: 'app',
          include: app,
          globalSetup: 'test/browser/buildWebOnce.ts',
          testTimeout: 300_000,
        },
      },
    ],
  },
});
