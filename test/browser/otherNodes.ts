import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';
import type { Design, DesignRequest } from '../../src/index.js';
import { packed } from './sameNumbersCases.js';

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
export function designedBy(program: string, script: string, requests: readonly DesignRequest[]): Design[] {
  const folder = mkdtempSync(join(tmpdir(), 'nullwise-nodes-'));
  try {
    writeFileSync(join(folder, 'requests.json'), packed(requests));
    writeFileSync(
      join(folder, 'run.cjs'),
      `const { readFileSync } = require('node:fs');
const read = (_, each) => (each?.packed ? Float64Array.from(each.packed) : each);
${script}
const requests = JSON.parse(readFileSync(__dirname + '/requests.json', 'utf8'), read);
process.stdout.write(JSON.stringify(sameNumbers.designs(requests)));`,
    );
    const text = execFileSync(program, [join(folder, 'run.cjs')], { encoding: 'utf8', maxBuffer: 2 ** 30 });
    return JSON.parse(text) as Design[];
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
