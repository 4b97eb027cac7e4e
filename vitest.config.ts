import { defineConfig } from 'vitest/config';

const tests = (folder: string) => `${folder}/**/*.test.{ts,tsx}`;
const cli = [tests('test/cli')];
const app = ['test/browser/web*.test.ts'];
/** What holds a browser, or changes something that lasts as long as its process, as loading the unit engine does. */
const alone = [
  ...['test/browser', 'test/fuzz', 'test/units', 'test/schema', 'test/web'].map(tests),
  'test/property/hostile.test.ts',
];

export default defineConfig({
  test: {
    testTimeout: 60_000,
    hookTimeout: 120_000,
    maxWorkers: 2,
    projects: [
      // Pure functions, which no earlier file can spoil; to load them anew for each file takes longer than most tests.
      {
        extends: true,
        test: {
          name: 'src',
          include: [tests('test')],
          exclude: [...cli, ...app, ...alone],
          isolate: false,
        },
      },
      { extends: true, test: { name: 'alone', include: alone, exclude: app } },
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
