import { fork } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';
import type { Ended } from './nullwise.js';

/**
 * The built program in one process for many command lines, one after another; `end` when there are no more. For tests of what
 * commands say and do, most of whose time would go into starting a program; `nullwise` starts one.
 */
export function manyRuns() {
  const child = fork(fileURLToPath(new URL('oneProcess.mjs', import.meta.url)), { stdio: 'inherit' });
  const over = once(child, 'exit').then(() => {
    throw new Error('the process of the command lines has ended');
  });
  over.catch(() => {});
  let before: Promise<unknown> = Promise.resolve();
  const runNext = async (args: readonly string[], cwd: string): Promise<Ended> => {
    const answer = once(child, 'message');
    child.send({ args, cwd });
    const [ended] = (await Promise.race([answer, over])) as [Ended];
    return ended;
  };
  return {
    run: (
      args: readonly string[],
      { cwd = process.cwd() }: { readonly cwd?: string } = {},
    ): Promise<Ended> => {
      const ended = before.then(() => runNext(args, cwd));
      before = ended.catch(() => {});
      return ended;
    },
    end: () => {
      if (child.connected) child.disconnect();
    },
  };
}
