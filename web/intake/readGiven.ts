import { cleanText } from '../../src/export/words/cleanText.js';
import { InputError } from '../../src/inputError.js';
import { readTargetBytes } from '../../src/pipeline/readTargetBytes.js';
import { isJsonText } from '../../src/schema/isJsonText.js';
import { withUnitEngine } from '../../src/units/withUnitEngine.js';
import type { FileRole, Project, ProjectFile } from '../store/project.js';
import { parseProject } from '../store/project.js';
import { projectFile } from '../store/projectFile.js';
import { drawnTarget } from '../store/projectOptionsSchema.js';
import { SAVED_DESIGN } from '../work/readJob.js';
import { firstReadable } from './firstReadable.js';
import { guessRole } from './guessRole.js';

const MAX_BYTES = 24 * 2 ** 20;
const EXPECTED = {
  other: 'of the other speaker its design.json or its measurement without filters',
  promised: SAVED_DESIGN,
};
const TARGET = 'a target: breakpoints in JSON, or rows of frequency and level';

/** A file that was given, as what it turned out to be, and what is to be said of it. */
export type Given =
  | { readonly kind: 'worksheet'; readonly name: string; readonly worksheet: Project }
  | {
      readonly kind: 'target';
      readonly name: string;
      readonly target: NonNullable<Project['options']['target']>;
      readonly said: readonly string[];
    }
  | { readonly kind: 'file'; readonly file: ProjectFile; readonly said: readonly string[] };

/**
 * Reads a file that was dropped or chosen, as what it most likely is: what cannot be read is not taken in the first
 * place.
 *
 * @param saidToBe what it is, where the user has said so; what is written in JSON is known by what is in it
 * @throws InputError naming the file and saying what is wrong with it
 */
export async function readGiven(file: File, saidToBe?: FileRole): Promise<Given> {
  const { name } = file;
  const bytes = await bytesOf(file);
  const kept = projectFile(name, 'position', bytes);
  const text = kept.encoding === 'text' ? kept.content : undefined;
  const guess = guessRole(name, text);
  if (saidToBe === 'promised' && guess !== 'project') return taken({ ...kept, role: saidToBe });
  const role = saidToBe !== undefined && !isJson(name, text) ? saidToBe : guess;
  switch (role) {
    case 'project':
      if (saidToBe === 'other' || saidToBe === 'promised')
        throw new InputError(`${name}: found a whole worksheet, expected ${EXPECTED[saidToBe]}`);
      return { kind: 'worksheet', name, worksheet: parseProject(text ?? '', name) };
    case 'target':
      return targetOf(name, bytes);
    case 'design':
      return taken({ ...kept, role: saidToBe === 'other' ? 'other' : 'promised' });
    default:
      return taken({ ...kept, role });
  }
}

async function bytesOf(file: File): Promise<Uint8Array> {
  if (file.size > MAX_BYTES) {
    throw new InputError(`${file.name}: found ${Math.round(file.size / 2 ** 20)} MB, expected at most 24 MB`);
  }
  try {
    return new Uint8Array(await file.arrayBuffer());
  } catch {
    throw new InputError(`${file.name}: could not be read, expected a file, not a folder`);
  }
}

const isJson = (name: string, text: string | undefined) => isJsonText(text ?? '') || /\.json$/i.test(name);

async function targetOf(name: string, bytes: Uint8Array): Promise<Given> {
  const { curve, warnings, isJson } = await withUnitEngine(() => readTargetBytes(bytes, name, TARGET));
  const doubt = isJson ? '' : ' by its name; if it is a measurement, undo and call it otherwise';
  return {
    kind: 'target',
    name,
    target: drawnTarget(curve),
    said: [`${name} was taken as the target${doubt}.`, ...warnings.map(({ message }) => cleanText(message))],
  };
}

async function taken(file: ProjectFile): Promise<Given> {
  const readable = await firstReadable(file);
  const { channel, name } = readable;
  const said =
    channel === undefined
      ? []
      : [`Channel ${channel} of ${name} is read: those before it hold no impulse response.`];
  return { kind: 'file', file: readable, said };
}
