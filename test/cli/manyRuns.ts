import { fork } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';
import type { Ended } from './nullwise.js';

/** The built program in one process for many command lines, one after another; `end` when there are no more. */
export function manyRuns() {
  const child = fork(fileURLToPath(new URL('oneProcess.mjs', import.meta.url)), { stdio: 'inherit' });
  return {
    run: async (args: readonly string[], cwd: string): Promise<Ended> => {
      child.send({ args, cwd });
      const [ended] = (await once(child, 'message')) as [Ended];
      return ended;
    },
    end: () => child.disconnect(),
  };
}
