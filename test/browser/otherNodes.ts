import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';
import { type Answer, type Job, packed } from './sameNumbersEntry.js';

/** Programs of other versions of Node: `node22` and `node24` on the path, and those that NULLWISE_NODES lists. */
export function otherNodes(): string[] {
  const named = (process.env.NULLWISE_NODES ?? '').split(delimiter).filter((path) => path !== '');
  return [...named, 'node22', 'node24'].filter(
    (program) => named.includes(program) || versionOf(program) !== undefined,
  );
}

export function versionOf(program: string): string | undefined {
  try {
    return execFileSync(program, ['--version'], {
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'ignore'],
    }).trim();
  } catch {
    return undefined;
  }
}

/** @param script the bundle of `sameNumbersEntry.ts` under the name `sameNumbers` */
export function answeredBy(program: string, script: string, jobs: readonly Job[]): Answer[] {
  const folder = mkdtempSync(join(tmpdir(), 'nullwise-nodes-'));
  try {
    writeFileSync(join(folder, 'jobs.json'), packed(jobs));
    writeFileSync(
      join(folder, 'run.cjs'),
      `${script}
const jobs = require('node:fs').readFileSync(__dirname + '/jobs.json', 'utf8');
process.stdout.write(sameNumbers.answered(jobs));`,
    );
    const text = execFileSync(program, [join(folder, 'run.cjs')], { encoding: 'utf8', maxBuffer: 2 ** 30 });
    return JSON.parse(text) as Answer[];
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
