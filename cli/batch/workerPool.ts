import { Worker } from 'node:worker_threads';
import type { ManifestEntry } from '../../src/schema/batch.js';
import { askedOptions } from './askedOptions.js';
import type { WorkerAnswer, WorkerTask, WorkerTerms } from './batchWorker.js';

export interface PoolOptions extends WorkerTerms {
  readonly workers: number;
  /** Called for each line in the order of the jobs. */
  readonly onLine: (line: string, ok: boolean) => void;
}

/** How many jobs per worker may be done before an earlier one is: what waits in memory, and is lost if the run ends. */
const AHEAD = 2;

/**
 * Memory of a worker for what is soon thrown away, in megabytes. Node gives 48; with 64 garbage is collected less often,
 * and a batch takes 4 to 5 % less time for some 30 MB more a worker.
 */
const YOUNG_GENERATION_MB = 64;

/** Runs all jobs on worker threads and hands their lines over in order; a worker that dies takes only its job along. */
export function runOnWorkers(entries: readonly ManifestEntry[], options: PoolOptions): Promise<void> {
  const { workers, onLine, folder, common } = options;
  const waiting = new Map<number, { line: string; ok: boolean }>();
  let next = 0;
  let written = 0;
  let running = 0;
  return new Promise((resolve, reject) => {
    const idle: Worker[] = [];
    const busy = new Map<Worker, number>();
    const close = () => {
      for (const worker of [...idle, ...busy.keys()]) void worker.terminate();
    };
    const settle = (index: number, line: string, ok: boolean) => {
      waiting.set(index, { line, ok });
      try {
        pump();
      } catch (error) {
        close();
        reject(error);
      }
    };
    /** Hands over what is ready and sends out what may be, as long as either goes on. */
    const pump = () => {
      for (let moved = true; moved; ) {
        moved = handOver();
        moved = sendOut() || moved;
      }
      if (written === entries.length) {
        close();
        resolve();
      }
    };
    const handOver = (): boolean => {
      const before = written;
      for (let ready = waiting.get(written); ready; ready = waiting.get(written)) {
        waiting.delete(written++);
        onLine(ready.line, ready.ok);
      }
      return written > before;
    };
    const start = (): Worker => {
      const worker = new Worker(new URL('./batchWorker.js', import.meta.url), {
        workerData: { folder, common } satisfies WorkerTerms,
        resourceLimits: { maxYoungGenerationSizeMb: YOUNG_GENERATION_MB },
      });
      running++;
      worker.on('message', ({ index, line, ok }: WorkerAnswer) => {
        busy.delete(worker);
        idle.push(worker);
        settle(index, line, ok);
      });
      worker.on('error', (error) => {
        const index = busy.get(worker);
        busy.delete(worker);
        running--;
        if (index === undefined) return;
        const said = `internal fault: ${error.message}`;
        const { job, read } = entries[index]!;
        const options = isProblem(read) ? undefined : askedOptions(read, common);
        settle(index, JSON.stringify({ job, ok: false, options, error: said }), false);
      });
      return worker;
    };
    const sendOut = (): boolean => {
      const before = next;
      while (next < entries.length && next < written + workers * AHEAD) {
        const { job: name, where, read } = entries[next]!;
        if (isProblem(read)) {
          const line = JSON.stringify({ job: name, ok: false, error: read.problem });
          waiting.set(next++, { line, ok: false });
          continue;
        }
        const worker = idle.pop() ?? (running < workers ? start() : undefined);
        if (!worker) break;
        const index = next++;
        busy.set(worker, index);
        worker.postMessage({ index, name, where, job: read } satisfies WorkerTask);
      }
      return next > before;
    };
    pump();
  });
}

function isProblem(read: ManifestEntry['read']): read is { readonly problem: string } {
  return 'problem' in read;
}
