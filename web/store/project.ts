import { z } from 'zod';
import type { Verdict } from '../../src/diagnosis/verdict/finding.js';
import type { Filter } from '../../src/filter/filter.js';
import { InputError } from '../../src/inputError.js';
import { exactObject } from '../../src/schema/exactObject.js';
import { found } from '../../src/schema/found.js';
import { problemsMessage } from '../../src/schema/problems.js';
import { readJson } from '../../src/schema/readJson.js';
import { UnitEngineNeeded } from '../../src/units/unitEngineNeeded.js';
import { oneOf } from './oneOf.js';
import { type fileRoles, projectFileSchema } from './projectFileSchema.js';
import type { ProjectOptions } from './projectOptions.js';
import { projectOptionsSchema } from './projectOptionsSchema.js';

/**
 * What a file is to the project; `repeat` is the first position measured again. Of what the filters are checked with,
 * `after` was measured with them in, `before` without them in place of the design's own curve, `other` is the other
 * speaker: its design, or its measurement without filters, and `promised` a saved design that they are held against in
 * place of the worksheet's own.
 */
export type FileRole = (typeof fileRoles)[number];

/** A file that the user gave, kept as it was. */
export interface ProjectFile {
  readonly name: string;
  readonly role: FileRole;
  /** What `content` is: the text itself, or bytes in base64 (RFC 4648, padded). */
  readonly encoding: 'text' | 'base64';
  readonly content: string;
  /** Of an impulse response: what counts of it, as a person writes it; all of it where absent. */
  readonly gate?: string;
  /** Of an impulse response: counted from 1; the first where absent. */
  readonly channel?: number;
}

/** A verdict given by hand on what was found at a frequency. */
export interface Overrule {
  readonly frequencyHz: number;
  readonly verdict: Verdict;
  readonly note: string;
}

/** A filter as the user left it: locked ones stay in a refit, those that are off don't sound. */
export interface ProjectFilter {
  readonly filter: Filter;
  readonly locked: boolean;
  readonly on: boolean;
}

/** Everything that a session in the app consists of, but for how it looks. */
export interface Project {
  readonly schemaVersion: 1;
  readonly name: string;
  readonly files: readonly ProjectFile[];
  readonly options: ProjectOptions;
  readonly overrules: readonly Overrule[];
  /** Absent where the fit's own filters stand. */
  readonly filters?: readonly ProjectFilter[];
  /** Those of `filters` that are not locked are to be fitted anew. */
  readonly refit?: boolean;
  /** Where else the speaker might stand: the text of a set-up file. */
  readonly whatIf?: string;
  /** What the result is held against. */
  readonly mask?: readonly MaskPoint[];
}

/** Limits around the target at a frequency. */
export interface MaskPoint {
  readonly frequencyHz: number;
  readonly lowerDb: number;
  readonly upperDb: number;
}

/** Longest project file that is read, in characters; with it a browser still has room to work. */
export const MAX_PROJECT_LENGTH = 96 * 2 ** 20;
export const MAX_PROJECT_NAME = 200;
const MAX_FILES = 100;
const MAX_OVERRULES = 500;
const MAX_FILTERS = 40;
const MAX_NOTE = 2000;
const MAX_SETUP = 100_000;
export const MAX_MASK = 100;

/** At most one of each may be in a project. */
export const SINGLE_ROLES: readonly FileRole[] = ['calibration', 'setup', 'device', 'other', 'promised'];

const number = (min: number, max: number, expected: string) => {
  const error = ({ input }: { readonly input?: unknown }) => `${found(input)}, expected ${expected}`;
  return z.number({ error }).min(min, { error }).max(max, { error });
};

const yesOrNo = z.boolean({ error: ({ input }) => `${found(input)}, expected true or false` });

const text = (max: number, expected: string) =>
  z
    .string({ error: ({ input }) => `${found(input)}, expected ${expected}` })
    .max(max, { error: ({ input }) => `${found(input)}, expected ${expected}` });

/** A bounded list; where it is too long its items are not looked at. */
const list = <T extends z.ZodType>(item: T, max: number, items: string) => {
  const error = ({ input }: { readonly input?: unknown }) =>
    `${found(input)}, expected a list of at most ${max} ${items}`;
  return z.array(z.unknown(), { error }).max(max, { error, abort: true }).pipe(z.array(item));
};

const frequencyHz = number(0.1, 384_000, 'a frequency from 0.1 to 384000 Hz');

const overrule = exactObject(
  {
    frequencyHz,
    verdict: oneOf(['equalize', 'move', 'leave']),
    note: text(MAX_NOTE, `a note of at most ${MAX_NOTE} characters`),
  },
  'an overruled verdict',
);

const filter = exactObject(
  {
    type: oneOf(['peaking', 'lowShelf', 'highShelf']),
    frequencyHz,
    gainDb: number(-60, 60, 'a gain from -60 to 60 dB'),
    q: number(0.01, 200, 'a Q from 0.01 to 200'),
  },
  'a filter',
);

const projectFilter = exactObject({ filter, locked: yesOrNo, on: yesOrNo }, 'a filter with its state');

const maskPoint = exactObject(
  {
    frequencyHz,
    lowerDb: number(-60, 60, 'a limit from -60 to 60 dB'),
    upperDb: number(-60, 60, 'a limit from -60 to 60 dB'),
  },
  'a point of a mask',
);

const projectSchema = exactObject(
  {
    schemaVersion: z.literal(1),
    name: text(MAX_PROJECT_NAME, `a name of 1 to ${MAX_PROJECT_NAME} characters`).refine(
      (name) => name.trim() !== '',
      { error: `found an empty name, expected one of 1 to ${MAX_PROJECT_NAME} characters` },
    ),
    files: list(projectFileSchema, MAX_FILES, 'files').superRefine(refuseSecondOfKind),
    options: projectOptionsSchema,
    overrules: list(overrule, MAX_OVERRULES, 'overruled verdicts'),
    filters: list(projectFilter, MAX_FILTERS, 'filters').exactOptional(),
    refit: yesOrNo.exactOptional(),
    whatIf: text(MAX_SETUP, 'the text of a set-up file').exactOptional(),
    mask: list(maskPoint, MAX_MASK, 'points of a mask').exactOptional(),
  },
  'a project',
);

function refuseSecondOfKind(files: readonly ProjectFile[], context: z.core.$RefinementCtx): void {
  for (const role of SINGLE_ROLES) {
    const [first, ...more] = files.flatMap((file, index) => (file.role === role ? [index] : []));
    for (const index of more) {
      context.addIssue({
        code: 'custom',
        path: [index, 'role'],
        message: `found a second "${role}" beside files[${first}], expected at most one`,
      });
    }
  }
}

/** Looks at nothing but the version, so that a newer format is not refused for keys that it may well have. */
const versioned = z.looseObject(
  { schemaVersion: z.literal(1, { error: ({ input }) => versionMessage(input) }) },
  { error: ({ input }) => `${found(input)}, expected a project, an object {…}` },
);

function versionMessage(version: unknown): string {
  return typeof version === 'number' && Number.isInteger(version) && version > 1
    ? `found ${version}, expected 1: this project was saved by a newer version of the program, and this one cannot read it`
    : `${found(version)}, expected 1: is this a project saved by the app?`;
}

const projectFile: z.ZodType<Project> = versioned.pipe(
  projectSchema as z.ZodType<Project, z.output<typeof versioned>>,
);

/**
 * A project from a value that is no text, such as one out of the browser's own storage.
 *
 * @param source for the message
 * @throws InputError with every problem
 */
export function checkProject(value: unknown, source: string): Project {
  const read = withoutUnitEngine(source, () => projectFile.safeParse(value));
  if (read.success) return read.data;
  const problems = read.error.issues.map(({ path, message }) => ({ what: path.join('.'), message }));
  throw new InputError(problemsMessage(source, problems));
}

/**
 * Reads a project file.
 *
 * @param fileName for the message
 * @throws InputError with every problem, each with its line, its path, what was found and what was expected
 */
export function parseProject(text: string, fileName: string): Project {
  if (text.length > MAX_PROJECT_LENGTH) {
    throw new InputError(
      `${fileName}: found ${text.length} characters, expected a project of at most ${MAX_PROJECT_LENGTH}`,
    );
  }
  return withoutUnitEngine(fileName, () => readJson(projectFile, text, fileName));
}

/** The app writes plain numbers; an expression that only the unit engine could read is no work of its. */
function withoutUnitEngine<T>(source: string, read: () => T): T {
  try {
    return read();
  } catch (error) {
    if (!(error instanceof UnitEngineNeeded)) throw error;
    throw new InputError(
      `${source}: options: found ${JSON.stringify(error.text)}, expected a number in Hz or dB`,
    );
  }
}
