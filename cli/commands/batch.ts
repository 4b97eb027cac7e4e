import { appendFileSync, closeSync, openSync, utimesSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { dirname, resolve } from 'node:path';
import type { Command } from 'commander';
import { InputError } from '../../src/inputError.js';
import { type ManifestEntry, readManifest } from '../../src/schema/batch.js';
import { changedSince, writtenMs } from '../batch/changedSince.js';
import { checkCommon } from '../batch/checkCommon.js';
import { doneBefore } from '../batch/doneBefore.js';
import { type EarlierLines, earlierLines } from '../batch/earlierLines.js';
import { filesOfJobs } from '../batch/filesOfJobs.js';
import { progressText } from '../batch/progressText.js';
import { replaceLines } from '../batch/replaceLines.js';
import { runOnWorkers } from '../batch/workerPool.js';
import { checkFileName } from '../filePlan.js';
import { helpText } from '../helpText.js';
import { addImpulseOptions, wholeNumber } from '../impulseOptions.js';
import { realPath } from '../io/outputFolder.js';
import { readInputText } from '../io/readInput.js';
import { openTerminal } from '../io/terminal.js';
import { addDesignOptions } from '../options.js';
import type { Flags } from '../readRequest.js';

interface BatchFlags {
  readonly out?: string;
  readonly force?: boolean;
  readonly retry?: boolean;
  readonly json?: boolean;
  readonly quiet?: boolean;
  readonly shard?: string;
  readonly workers?: string;
}

const MANIFEST =
  'a manifest: CSV with a header, or one JSON object a line (its format: nullwise schema batch)';

const HELP = helpText({
  takes:
    "a manifest. A row names a measurement (or several, as a list or with | between them) and any options of fit by their names; paths are taken from the manifest's folder. Options given here hold for every job that has none of its own.",
  gives:
    'one line of JSON for each job, in the order of the manifest: { "job", "ok", "options", "result" | "error" }. A job that fails stops no other and leaves the exit code at 0: look for "ok": false. With --out a run that was interrupted goes on where it stopped, unless options have changed since; --retry then does again what failed and what was made of files that have been written anew.',
  examples: [
    'nullwise batch units.csv --out results.ndjson',
    'nullwise batch units.csv --out results.ndjson --retry',
    'nullwise batch curves.ndjson --bands 3 --effort quick --shard 1/2 --out part-1.ndjson',
  ],
});

/** `nullwise batch`: many fits on all cores. */
export function addBatch(program: Command): void {
  const command = program
    .command('batch')
    .summary('many fits, one line of JSON each')
    .description('Runs the main job for every line of a manifest, on all cores.')
    .argument('<manifest>', 'CSV or NDJSON');
  addDesignOptions(addImpulseOptions(command, 'all of it'))
    .option(
      '--against-bands',
      'tell the error against the number of bands too, as fit does; takes about a third longer',
    )
    .option('--out <file>', 'write the lines there, and go on where an earlier run stopped')
    .option('--force', 'begin anew where there is such a file')
    .option(
      '--retry',
      'with --out: first do again, in their places, the jobs that failed and those whose files are newer than the results',
    )
    .option('--shard <i/n>', 'only the i-th of n equal parts, for several machines')
    .option('--workers <n>', 'how many fits at once (default: as many as there are cores)')
    .option('--json', 'as without it: the lines are JSON and nothing else is among them')
    .option('--quiet', 'say nothing but errors')
    .addHelpText('after', HELP)
    .action(
      async (
        manifest: string,
        { out, force, retry, json: _always, quiet, shard, workers, ...common }: Flags & BatchFlags,
      ) => {
        await runBatch(manifest, common as Flags, {
          ...(out !== undefined && { out }),
          ...(shard !== undefined && { shard }),
          ...(workers !== undefined && { workers }),
          force: Boolean(force),
          retry: Boolean(retry),
          quiet: Boolean(quiet),
        });
      },
    );
}

async function runBatch(manifest: string, common: Flags, flags: BatchFlags): Promise<void> {
  const { out } = flags;
  const workers =
    flags.workers === undefined ? availableParallelism() : wholeNumber('--workers', flags.workers, 1, 1024);
  const mine = shardOf(flags.shard);
  checkCommon(common);
  const entries = readManifest(readInputText(manifest, MANIFEST), manifest);
  const all = entries.filter((_, i) => mine(i));
  const folder = dirname(resolve(manifest));
  const retry = Boolean(flags.retry);
  if (retry && (out === undefined || flags.force))
    throw new InputError(
      `--retry: found ${out === undefined ? 'without --out' : 'beside --force, which does all again'}, expected --out with the results of an earlier run`,
    );
  let earlier: EarlierLines = { done: 0, failed: [] };
  let changed: number[] = [];
  let resultsMs: number | undefined;
  if (out !== undefined) {
    checkFileName(out);
    checkNoInput(out, [manifest, ...filesOfJobs(entries, folder, common)]);
    resultsMs = writtenMs(out);
    openResults(out, Boolean(flags.force));
    earlier = earlierLines(out, all, common, retry);
    const isChanged = changedSince(resultsMs ?? Number.POSITIVE_INFINITY, folder, common);
    changed = all.slice(0, earlier.done).flatMap((entry, i) => (isChanged(entry) ? [i] : []));
  }
  const { done } = earlier;
  const terminal = openTerminal({ quiet: Boolean(flags.quiet) });
  const again = retry ? [...new Set([...earlier.failed, ...changed])].sort((a, b) => a - b) : [];
  if (done > 0) terminal.message(doneBefore(all.length, earlier, changed, again));
  const start = Date.now();
  const rest = all.slice(done);
  const toDo = again.length + rest.length;
  const kept = all.length - toDo;
  let finished = 0;
  let failed = 0;
  const run = (open: readonly ManifestEntry[], take: (line: string, index: number) => void) => {
    let index = 0;
    return runOnWorkers(open, {
      folder,
      common,
      workers: Math.min(workers, Math.max(1, open.length)),
      onLine: (line, ok) => {
        take(line, index++);
        finished++;
        if (!ok) failed++;
        const seconds = (Date.now() - start) / 1000;
        terminal.progress(
          progressText({ done: kept + finished, all: all.length, finished, failed, seconds }),
        );
      },
    });
  };
  if (out !== undefined && again.length > 0) {
    const lines = new Map<number, string>();
    await run(
      again.map((i) => all[i]!),
      (line, index) => lines.set(again[index]!, line),
    );
    orSayNoRoom(out, () => replaceLines(realPath(out), lines));
  }
  // Lines that no longer tell of their files keep the time by which that is seen, for a later --retry.
  const keptMs = retry || changed.length === 0 ? undefined : resultsMs;
  await run(rest, (line) => {
    if (out === undefined) terminal.line(line);
    else
      orSayNoRoom(out, () => {
        appendFileSync(out, `${line}\n`);
        if (keptMs !== undefined) utimesSync(out, keptMs / 1000, keptMs / 1000);
      });
  });
  if (failed > 0) terminal.message(`${failed} of ${finished} jobs failed; their lines say why.`);
}

/** @throws InputError where the results would be written over what the jobs are done from */
function checkNoInput(out: string, inputs: readonly string[]): void {
  const place = realPath(out);
  if (inputs.some((path) => realPath(path) === place))
    throw new InputError(`--out: ${out} is an input of this command, expected another file`);
}

/** @throws InputError where the disk takes no more; the lines so far stay, and the next run goes on after them */
function orSayNoRoom(out: string, write: () => void): void {
  try {
    write();
  } catch (error) {
    throw new InputError(
      `--out: ${out} cannot be written (${(error as Error).message}), expected room for the lines`,
    );
  }
}

/** @throws InputError where results cannot be written to `out`; empties it where all is to begin anew */
function openResults(out: string, anew: boolean): void {
  try {
    closeSync(openSync(out, anew ? 'w' : 'a'));
  } catch (error) {
    const { code = '' } = error as NodeJS.ErrnoException;
    throw new InputError(
      `--out: ${out} cannot be written (${code}), expected a file in a folder that is there`,
    );
  }
}

/** Whether a job belongs to shard i of n: every n-th, so that neighbours of a kind spread evenly. */
function shardOf(written: string | undefined): (index: number) => boolean {
  if (written === undefined) return () => true;
  const [, i, n] = /^\s*(\d+)\s*\/\s*(\d+)\s*$/.exec(written)?.map(Number) ?? [];
  if (i === undefined || n === undefined || i < 1 || i > n)
    throw new InputError(`--shard: found "${written}", expected i/n with i from 1 to n, such as 2/8`);
  return (index) => index % n === i - 1;
}
