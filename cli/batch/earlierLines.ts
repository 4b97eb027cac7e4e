import { closeSync, existsSync, ftruncateSync, openSync, readSync, statSync } from 'node:fs';
import { InputError } from '../../src/inputError.js';
import type { ManifestEntry } from '../../src/schema/batch.js';
import type { Flags } from '../readRequest.js';
import { askedOptions, changedOptions } from './askedOptions.js';

const CHUNK_BYTES = 1 << 20;
const LINE_END = 10;

export interface EarlierLines {
  readonly done: number;
  /** Which of `done` came to nothing, by their place among the jobs. */
  readonly failed: readonly number[];
}

/**
 * How many jobs an earlier run has left in `path`. A last line that was cut off in the middle is taken away, where it
 * begins as the line of the next job would. The file is read piece by piece, since the results of a large batch would
 * not fit into memory. What is no file (a pipe, a device) keeps nothing.
 *
 * @param entries all jobs, in the order of the lines
 * @param common options of the whole batch
 * @param again whether jobs that failed are done again, with whatever options they have now
 * @throws InputError where the file holds anything but the first lines of this batch, done with the same options
 */
export function earlierLines(
  path: string,
  entries: readonly ManifestEntry[],
  common: Flags,
  again = false,
): EarlierLines {
  if (!existsSync(path) || !statSync(path).isFile()) return { done: 0, failed: [] };
  const file = openSync(path, 'r+');
  try {
    const chunk = Buffer.alloc(CHUNK_BYTES);
    let pieces: Buffer[] = [];
    let lines = 0;
    const failed: number[] = [];
    let whole = 0;
    for (let size = readSync(file, chunk); size > 0; size = readSync(file, chunk)) {
      let start = 0;
      for (let end = chunk.indexOf(LINE_END); end >= 0 && end < size; end = chunk.indexOf(LINE_END, start)) {
        const line = Buffer.concat([...pieces, chunk.subarray(start, end)]);
        pieces = [];
        start = end + 1;
        whole += line.length + 1;
        const where = `${path}, line ${lines + 1}`;
        const { ok } = checkLine(line.toString('utf8'), where, entries[lines], common, again);
        if (!ok) failed.push(lines);
        lines++;
      }
      if (start < size) pieces.push(Buffer.from(chunk.subarray(start, size)));
    }
    if (pieces.length > 0) {
      checkBeginning(Buffer.concat(pieces), `${path}, line ${lines + 1}`, entries[lines]);
      ftruncateSync(file, whole);
    }
    return { done: lines, failed };
  } finally {
    closeSync(file);
  }
}

/** A line without an end is taken away only where it is one of ours. */
function checkBeginning(bytes: Buffer, where: string, entry: ManifestEntry | undefined): void {
  const ours = Buffer.from(entry ? `{"job":${JSON.stringify(entry.job)},"ok":` : '');
  const size = Math.min(bytes.length, ours.length);
  if (size === 0 || !bytes.subarray(0, size).equals(ours.subarray(0, size))) throw noResult(where, entry);
}

function noResult(where: string, entry: ManifestEntry | undefined): InputError {
  const found = entry
    ? `not a result of job ${JSON.stringify(entry.job)}`
    : 'found a line more than there are jobs';
  return new InputError(
    `${where}: ${found}, expected what an earlier run ` +
      'of the same manifest has left; --force begins anew',
  );
}

function checkLine(
  text: string,
  where: string,
  entry: ManifestEntry | undefined,
  common: Flags,
  again: boolean,
): { readonly ok: boolean } {
  const line = parsed(text);
  if (!entry || line?.job !== entry.job) throw noResult(where, entry);
  if (again && line.ok === false) return { ok: false };
  const now = 'problem' in entry.read ? {} : askedOptions(entry.read, common);
  const earlier = line.options ?? {};
  const changed = changedOptions(earlier, now);
  if (changed === undefined) return { ok: line.ok !== false };
  throw new InputError(
    `${where}: job ${JSON.stringify(entry.job)} was done with other options (${changed}), expected the same, or results ` +
      'of both would be mixed; --force begins anew, another --out keeps both',
  );
}

interface EarlierLine {
  readonly job?: unknown;
  readonly ok?: unknown;
  readonly options?: Record<string, unknown>;
}

function parsed(line: string): EarlierLine | undefined {
  try {
    return JSON.parse(line) as EarlierLine;
  } catch {
    return undefined;
  }
}
