import { z } from 'zod';
import { InputError } from '../inputError.js';
import { designOptionsSchema } from './designOptions.js';
import { exactObject } from './exactObject.js';
import { issueWords } from './issueWords.js';
import { parseJsonText } from './jsonText.js';
import { problemsMessage } from './problems.js';

const written = (description: string) =>
  z.union([z.string(), z.number()]).meta({ description }).exactOptional();
const path = (description: string) => z.string().min(1).meta({ description }).exactOptional();
const paths = (description: string) =>
  z.union([z.string().min(1), z.array(z.string().min(1)).min(1)]).meta({ description });

/** The numbers of a design as `fit` takes them; they are read, and refused, when the job is done. */
const numbers = Object.fromEntries(
  Object.keys(designOptionsSchema.shape).map((field) => [field, written(`as the option of fit`)]),
);

/** One line of a manifest: what `fit` would be given, by the names of its options. */
export const batchJobSchema = exactObject(
  {
    job: z
      .union([z.string().min(1), z.number()])
      .meta({ description: 'what to call it in the results; its number in the manifest where absent' })
      .exactOptional(),
    measurement: paths('one measurement, or a list of positions of one set-up; from the manifest’s folder'),
    moved: paths('the same speaker at another placement').exactOptional(),
    repeat: paths('the first measurement taken again in the same place').exactOptional(),
    aim: path('with several positions, which error is made small: mean or worst'),
    setup: path('a set-up file'),
    calibration: path('a calibration file'),
    target: path('the word flat, or a target file'),
    device: path('a device by name, or a device file'),
    title: z
      .string()
      .regex(/\S/, 'found an empty text, expected a name')
      .meta({ description: 'what to call it in the design' })
      .exactOptional(),
    gate: written('WAV: as the option of fit'),
    effort: path('how long to search: quick, normal or thorough'),
    channel: written('WAV: as the option of fit'),
    ...numbers,
  },
  'a job',
).meta({ title: 'One job of a manifest for nullwise batch: one line of NDJSON, or one row of CSV' });

export type BatchJob = z.output<typeof batchJobSchema>;

/** A job as the manifest has it: read, or what is wrong with it. */
export interface ManifestEntry {
  readonly job: string;
  /** File and line. */
  readonly where: string;
  readonly read: BatchJob | { readonly problem: string };
}

/** Cells of a header that is none; nobody reads more. */
const MAX_SHOWN = 30;
const MAX_CELL = 60;
/** Characters of one job: some thousand paths, or one absurdly long. */
const MAX_JOB = 100_000;

/** Several paths in one cell of a CSV file. */
const BETWEEN_PATHS = '|';

/**
 * Reads a manifest: NDJSON where its first line opens an object or its name says so, else CSV with a header.
 *
 * @throws InputError where the manifest as a whole cannot be read; what is wrong with one job is kept with it
 */
export function readManifest(text: string, fileName: string): ManifestEntry[] {
  const plain = text.replace(/^\uFEFF/, '');
  const isLines = /^\s*\{/.test(plain) || /\.(ndjson|jsonl)$/i.test(fileName);
  const entries = isLines ? readLines(plain, fileName) : readTable(plain, fileName);
  if (entries.length === 0) throw new InputError(`${fileName}: no jobs, expected one line for each`);
  refuseSameNames(entries);
  return entries;
}

/** Two lines of results with one name could not be told apart. */
function refuseSameNames(entries: readonly ManifestEntry[]): void {
  const first = new Map<string, string>();
  for (const { job, where } of entries) {
    const earlier = first.get(job);
    if (earlier !== undefined) {
      throw new InputError(
        `${where}: found job ${JSON.stringify(job)}, as at ${earlier} already, expected a name of its own for each ` +
          '(its number in the manifest where it has none)',
      );
    }
    first.set(job, where);
  }
}

function readLines(text: string, fileName: string): ManifestEntry[] {
  return text
    .split(/\r?\n/)
    .map((line, before) => ({ line, before, where: `${fileName}, line ${before + 1}` }))
    .filter(({ line }) => line.trim() !== '')
    .map(({ line, before, where }, index) => {
      if (line.length > MAX_JOB) return tooLong(line.length, index, where);
      try {
        return entryOf(inCamelCase(parseJsonText(line, where).value), index, where);
      } catch (error) {
        if (!(error instanceof InputError)) throw error;
        return { job: String(index + 1), where, read: { problem: noJson(line, before, fileName) } };
      }
    });
}

/** What is wrong with a line that is no JSON, in the words for a whole file that stops there. */
function noJson(line: string, linesBefore: number, fileName: string): string {
  try {
    parseJsonText(`${'\n'.repeat(linesBefore)}${line}`, fileName);
  } catch (error) {
    if (error instanceof InputError) return error.message;
    throw error;
  }
  throw new Error('a line of JSON was refused and is none');
}

function readTable(text: string, fileName: string): ManifestEntry[] {
  const rows = csvRows(text, fileName).filter(({ cells }) => cells.some((cell) => cell !== ''));
  const header = rows[0];
  if (!header) return [];
  const fields = header.cells.map(camelCase);
  const known = Object.keys(batchJobSchema.shape);
  const strange = fields.filter((field) => !known.includes(field));
  if (strange.length > 0 || !fields.includes('measurement') || new Set(fields).size < fields.length) {
    const shown = header.cells
      .slice(0, MAX_SHOWN)
      .map((cell) => JSON.stringify(cell.length > MAX_CELL ? `${cell.slice(0, MAX_CELL - 1)}…` : cell));
    if (header.cells.length > MAX_SHOWN) shown.push(`and ${header.cells.length - MAX_SHOWN} more`);
    throw new InputError(
      `${fileName}, line ${header.line}: found ${shown.join(', ')}, expected a header with "measurement" and any of ` +
        `${known.filter((field) => field !== 'measurement').join(', ')}, each once`,
    );
  }
  return rows.slice(1).map(({ cells, line }, index) => {
    const where = `${fileName}, line ${line}`;
    if (cells.length > fields.length) {
      const problem = `${where}: ${cells.length} cells, expected ${fields.length} as in the header`;
      return { job: String(index + 1), where, read: { problem } };
    }
    const length = cells.reduce((sum, cell) => sum + cell.length, 0);
    if (length > MAX_JOB) return tooLong(length, index, where);
    const values = fields.flatMap((field, i) => {
      const cell = cells[i] ?? '';
      if (cell === '') return [];
      const isList = ['measurement', 'moved', 'repeat'].includes(field) && cell.includes(BETWEEN_PATHS);
      return [[field, isList ? cell.split(BETWEEN_PATHS).map((one) => one.trim()) : cell] as const];
    });
    return entryOf(Object.fromEntries(values), index, where);
  });
}

function tooLong(length: number, index: number, where: string): ManifestEntry {
  const problem = `${where}: found ${length} characters, expected at most ${MAX_JOB} for one job`;
  return { job: String(index + 1), where, read: { problem } };
}

function entryOf(value: unknown, index: number, where: string): ManifestEntry {
  const name = (value as { readonly job?: unknown } | null)?.job;
  const job = typeof name === 'string' || typeof name === 'number' ? String(name) : String(index + 1);
  const result = batchJobSchema.safeParse(value);
  if (result.success) return { job, where, read: result.data };
  const problems = result.error.issues.map((issue) => ({
    what: issue.path.map(String).join('.'),
    message: issueWords(issue, value),
  }));
  return { job, where, read: { problem: problemsMessage(where, problems) } };
}

/** An object with its keys as `camelCase` has them; one that names an option twice, or is no object, stays as it is. */
function inCamelCase(value: unknown): unknown {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return value;
  const entries = Object.entries(value).map(([key, field]) => [camelCase(key), field] as const);
  return new Set(entries.map(([key]) => key)).size < entries.length ? value : Object.fromEntries(entries);
}

/** "max-boost" or "Max boost" to "maxBoost". */
function camelCase(header: string): string {
  const [first = '', ...rest] = header
    .trim()
    .replace(/^--/, '')
    .split(/[-_ ]+/);
  const small = first.charAt(0).toLowerCase() + first.slice(1);
  return small + rest.map((word) => word.charAt(0).toUpperCase() + word.slice(1)).join('');
}

/** Rows after RFC 4180, separated by comma, semicolon or tab as the first line is; lines that begin with # are left out. */
function csvRows(text: string, fileName: string): { cells: string[]; line: number }[] {
  const firstLine = text.split(/\r?\n/).find((line) => line.trim() !== '' && !line.startsWith('#')) ?? '';
  const separator = [';', '\t', ','].find((one) => firstLine.includes(one)) ?? ',';
  const rows: { cells: string[]; line: number }[] = [];
  let at = 0;
  let line = 1;
  while (at < text.length) {
    const start = line;
    if (text[at] === '#') {
      const end = text.indexOf('\n', at);
      at = end < 0 ? text.length : end + 1;
      line++;
      continue;
    }
    const cells: string[] = [];
    for (let more = true; more; ) {
      let cell = '';
      while (text[at] === ' ') at++;
      if (text[at] === '"') {
        at++;
        for (;;) {
          if (at >= text.length)
            throw new InputError(
              `${fileName}, line ${start}: a quote without its end, expected a second one`,
            );
          if (text[at] === '"' && text[at + 1] !== '"') break;
          if (text[at] === '"') at++;
          if (text[at] === '\n') line++;
          cell += text[at++];
        }
        at++;
      }
      while (at < text.length && text[at] !== separator && text[at] !== '\n') cell += text[at++];
      more = text[at] === separator;
      if (more || text[at] === '\n') at++;
      cells.push(cell.trim());
    }
    line++;
    rows.push({ cells, line: start });
  }
  return rows;
}
