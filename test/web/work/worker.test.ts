import { afterEach, expect, test, vi } from 'vitest';
import { projectFile } from '../../../web/store/projectFile.js';
import type { Job } from '../../../web/work/job.js';
import type { Answer, Question } from '../../../web/work/messages.js';

afterEach(() => vi.unstubAllGlobals());

const GRID_HZ = Array.from({ length: 200 }, (_, i) => 20 * 1000 ** (i / 199));
const rows = GRID_HZ.map((hz) => `${hz.toFixed(3)} ${(84 + 4 / (1 + Math.log2(hz / 900) ** 4)).toFixed(3)}`);
const JOB: Job = {
  files: [projectFile('one.txt', 'position', new TextEncoder().encode(rows.join('\n')))],
  options: { bands: 2 },
  overrules: [],
  held: [],
};

/** A worker of the app, as the page hears it. */
async function workerOf(heard: (answer: Answer) => void) {
  let ask: (event: { readonly data: Question }) => void = () => {};
  vi.stubGlobal('postMessage', heard);
  vi.stubGlobal('addEventListener', (_: string, listener: typeof ask) => {
    ask = listener;
  });
  vi.resetModules();
  await import('../../../web/work/worker.js');
  return (data: Question) => ask({ data });
}

test.each([true, false])(
  'says no step once the other worker can begin, whose end would not take it back (fit %s)',
  async (fit) => {
    const answers: Answer[] = [];
    const last = new Promise<void>((resolve) => {
      void workerOf((answer) => {
        answers.push(answer);
        if (answer.kind === 'first') resolve();
      }).then((ask) => ask({ kind: 'first', id: 7, job: JOB, fit }));
    });
    await last;
    const kinds = answers.map((answer) => (answer.kind === 'step' ? answer.words : answer.kind));
    expect(kinds).toEqual([
      'Reading the files',
      'read',
      'Looking for what is wrong',
      ...(fit ? ['Fitting'] : []),
      'diagnosed',
      'first',
    ]);
    expect(answers.every(({ id }) => id === 7)).toBe(true);
  },
);
