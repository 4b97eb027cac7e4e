import { parentPort, workerData } from 'node:worker_threads';
import { design } from '../../src/design.js';
import { InputError } from '../../src/inputError.js';
import type { BatchJob } from '../../src/schema/batch.js';
import { designSchema } from '../../src/schema/design.js';
import { withUnitEngine } from '../../src/units/withUnitEngine.js';
import type { Flags } from '../readRequest.js';
import { askedOptions } from './askedOptions.js';
import { jobRequest } from './jobRequest.js';

/** What a worker is given once, what it is sent for each job, and what it answers. */
export interface WorkerTerms {
  readonly folder: string;
  readonly common: Flags;
}
export interface WorkerTask {
  readonly index: number;
  readonly name: string;
  /** File and line of the manifest. */
  readonly where: string;
  readonly job: BatchJob;
}
export interface WorkerAnswer {
  readonly index: number;
  readonly line: string;
  readonly ok: boolean;
}

const { folder, common } = workerData as WorkerTerms;

parentPort?.on('message', async ({ index, ...task }: WorkerTask) => {
  parentPort?.postMessage({ index, ...(await lineOf(task)) } satisfies WorkerAnswer);
});

/** The job's line, with the options that it was done with; whatever goes wrong with it stops no other. */
async function lineOf({
  name,
  where,
  job,
}: Omit<WorkerTask, 'index'>): Promise<{ line: string; ok: boolean }> {
  const options = askedOptions(job, common);
  try {
    const result = await withUnitEngine(async () => design(jobRequest(job, folder, common)));
    const line = { job: name, ok: true, options, result: designSchema.parse(result) };
    return { line: JSON.stringify(line), ok: true };
  } catch (error) {
    const message = error instanceof Error ? error.message : String(error);
    const said = error instanceof InputError ? `${where}: ${message}` : `internal fault: ${message}`;
    return { line: JSON.stringify({ job: name, ok: false, options, error: said }), ok: false };
  }
}
