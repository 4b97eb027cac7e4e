import type { BatchJob } from '../../src/schema/batch.js';
import type { Flags } from '../readRequest.js';

/** The options that a job is done with, as they were written and in the order of the alphabet; no undefined ones. */
export type AskedOptions = Readonly<Record<string, unknown>>;

/** Options of the whole batch, those of the job before them; what a line of the results keeps of both. */
export function askedOptions({ job: _, ...own }: BatchJob, common: Flags): AskedOptions {
  const all: Readonly<Record<string, unknown>> = { ...common, ...own };
  return Object.fromEntries(
    Object.keys(all)
      .filter((field) => all[field] !== undefined)
      .sort()
      .map((field) => [field, all[field]]),
  );
}

/** In words where two jobs were asked for different things: "--bands 8, now 10". */
export function changedOptions(earlier: AskedOptions, now: AskedOptions): string | undefined {
  const written = (value: unknown) => (value === undefined ? 'not given' : JSON.stringify(value));
  const fields = [...new Set([...Object.keys(earlier), ...Object.keys(now)])].sort();
  const changed = fields.filter((field) => written(earlier[field]) !== written(now[field]));
  if (changed.length === 0) return undefined;
  return changed.map((field) => `${field} ${written(earlier[field])}, now ${written(now[field])}`).join('; ');
}
