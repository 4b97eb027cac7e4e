import { spawn, spawnSync } from 'node:child_process';
import { expect, test } from 'vitest';
import { program } from './nullwise.js';

test.skipIf(process.platform === 'win32').each([
  [2, '2>&-', ['fit', 'nowhere.txt']],
  [2, '2>&-', ['fit']],
  [2, '2>/dev/full', ['fit', 'nowhere.txt']],
  [0, '2>&-', ['export', '--help']],
])('ends with %i where nobody can read its messages: %s %j', (code, elsewhere, args) => {
  const { status } = spawnSync('sh', ['-c', `"$0" "$@" ${elsewhere}`, process.execPath, program, ...args]);
  expect(status).toBe(code);
});

/** What a program says and ends with when nobody reads what it prints. */
function unread(...args: string[]): Promise<{ readonly code: number | null; readonly stderr: string }> {
  return new Promise((resolve) => {
    const child = spawn(process.execPath, [program, ...args], { stdio: ['ignore', 'pipe', 'pipe'] });
    child.stdout.destroy();
    let stderr = '';
    child.stderr.on('data', (chunk) => {
      stderr += chunk;
    });
    child.on('close', (code) => resolve({ code, stderr }));
  });
}

test.each([[['fit', '--help']], [['--help']], [['schema', 'setup']]])(
  '%j ends without a fault where its reader has gone',
  async (args) => {
    expect(await unread(...args)).toEqual({ code: 0, stderr: '' });
  },
);
