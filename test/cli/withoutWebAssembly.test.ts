import { execFile } from 'node:child_process';
import { promisify } from 'node:util';
import { afterAll, expect, test } from 'vitest';
import { curveText } from './curveText.js';
import { program } from './nullwise.js';
import { workFolder } from './workFolder.js';

const work = workFolder({ 'room.txt': curveText() });
afterAll(work.remove);

const run = promisify(execFile);
const fitted = async (...flags: string[]) => {
  const args = [...flags, program, 'fit', 'room.txt', '--bands', '5', '--json'];
  return (await run(process.execPath, args, { cwd: work.folder, maxBuffer: 1e8 })).stdout;
};

test('a design comes out to the same bytes where there is no WebAssembly', async () => {
  const { stdout } = await run(process.execPath, ['--noexpose-wasm', '-p', 'typeof WebAssembly']);
  expect(stdout.trim()).toBe('undefined');
  const plain = await fitted('--noexpose-wasm');
  expect(JSON.parse(plain).filters.length).toBeGreaterThan(2);
  expect(await fitted()).toBe(plain);
});
