import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

/** The tests of the command line run what a user runs: dist/, built once before them. */
export default function buildOnce(): void {
  const compiler = fileURLToPath(new URL('../../node_modules/typescript/bin/tsc', import.meta.url));
  const root = fileURLToPath(new URL('../..', import.meta.url));
  const { status, stdout, stderr } = spawnSync(process.execPath, [compiler, '-p', 'tsconfig.build.json'], {
    cwd: root,
    encoding: 'utf8',
  });
  if (status !== 0) throw new Error(`the build failed:\n${stdout}${stderr}`);
}
