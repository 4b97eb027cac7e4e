import { execFile } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { expect, test } from 'vitest';

const MIB = 2;
/** Some 50 MB of it the program itself takes, with what its tests need. */
const HEAP_MB = 128;
/** Samples are outside of the heap: those of a long WAV file, and its transform, take the most. */
const ALL_MB = 450;

test(`no file of ${MIB} MiB makes a reader need more than a heap of ${HEAP_MB} MB`, {
  timeout: 180_000,
}, async () => {
  const script = fileURLToPath(new URL('memory.ts', import.meta.url));
  // A process that runs out of its heap ends with a fault, and so does this.
  const { stdout } = await promisify(execFile)(
    process.execPath,
    ['--import', 'tsx', `--max-old-space-size=${HEAP_MB}`, script, String(MIB)],
    { cwd: fileURLToPath(new URL('../../', import.meta.url)), maxBuffer: 2 ** 24 },
  );
  const lines = stdout
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line) as { file?: string; fault?: string; greatestMb?: number });
  const { greatestMb } = lines.pop()!;
  expect(lines.length).toBeGreaterThan(50);
  expect(lines.filter(({ fault }) => fault !== undefined)).toEqual([]);
  expect(greatestMb).toBeLessThan(ALL_MB);
});
