import { InputError } from '../../src/inputError.js';
import { readMeasurementText } from '../../src/measurement/readMeasurementText.js';
import { readTarget } from '../../src/schema/target.js';
import { withUnitEngine } from '../../src/units/withUnitEngine.js';
import { demoProject } from '../demo.js';
import { openKept } from '../state/keeping.js';
import { change, notice, project, refused, UNTITLED } from '../state/session.js';
import type { FileRole, Project, ProjectFile } from '../store/project.js';
import { parseProject } from '../store/project.js';
import { projectFile } from '../store/projectFile.js';
import { drawnTarget } from '../store/projectOptionsSchema.js';
import { checkFile } from '../work/readJob.js';
import { guessRole } from './guessRole.js';

/** Roles of which a project has one at most. */
export const SINGLE: readonly FileRole[] = ['calibration', 'setup', 'device', 'after'];

const MAX_BYTES = 24 * 2 ** 20;

/** Takes files that were dropped or chosen, each as what it most likely is. */
export async function takeFiles(list: readonly File[]): Promise<void> {
  const notTaken: string[] = [];
  const fresh: ProjectFile[] = [];
  let target: Project['options']['target'];
  for (const file of list) {
    try {
      if (file.size > MAX_BYTES) {
        throw new InputError(
          `${file.name}: found ${Math.round(file.size / 2 ** 20)} MB, expected at most 24 MB`,
        );
      }
      const bytes = new Uint8Array(await file.arrayBuffer());
      const kept = projectFile(file.name, 'position', bytes);
      const text = kept.encoding === 'text' ? kept.content : undefined;
      const role = guessRole(file.name, text);
      if (role === 'project') {
        // Read whole before anything is given up.
        const opened = parseProject(text ?? '', file.name);
        await openKept(opened);
        refused.value = [];
        notice.value = `Opened “${opened.name}”.`;
        return;
      }
      if (role === 'design') {
        throw new InputError(
          `${file.name}: found a finished design, expected what it was made from (measurements, set-up, device) or a project`,
        );
      }
      if (role === 'target') {
        const curve = await withUnitEngine(() =>
          /^\s*\{/.test(text ?? '')
            ? readTarget(text ?? '', file.name)
            : readMeasurementText(bytes, file.name, { minRows: 2 }).curve,
        );
        target = drawnTarget(curve);
        continue;
      }
      // What cannot be read is not taken in the first place.
      const taken = { ...kept, role };
      await withUnitEngine(() => checkFile(taken));
      fresh.push(taken);
    } catch (error) {
      notTaken.push(error instanceof InputError ? error.message : `${file.name}: could not be read`);
    }
  }
  if (fresh.length > 0 || target) addFiles(fresh, target);
  refused.value = notTaken;
}

function addFiles(fresh: readonly ProjectFile[], target: Project['options']['target']): void {
  const names = fresh.map(({ name }) => name).join(', ') || 'a target';
  const hasOwnMeasurement = fresh.some(({ role }) => role === 'position');
  change(
    `add ${names}`,
    (value) => {
      // One's own measurement takes the place of the demo; nothing of that belongs to it.
      const isDemo =
        hasOwnMeasurement &&
        value.files.some((file) => demoProject.files.some(({ content }) => content === file.content));
      const base: Project = isDemo
        ? { schemaVersion: 1, name: UNTITLED, files: [], options: {}, overrules: [] }
        : value;
      const singles = fresh.map(({ role }) => role).filter((role) => SINGLE.includes(role));
      const before = base.files.filter(({ role }) => !singles.includes(role));
      const last = new Map(fresh.map((file) => [file.role, file]));
      const added = fresh.filter((file) => !SINGLE.includes(file.role) || last.get(file.role) === file);
      return {
        ...base,
        files: [...before, ...added],
        options: { ...base.options, ...(target && { target }) },
      };
    },
    { refit: true },
  );
}

export function removeFile(file: ProjectFile): void {
  change(
    `take ${file.name} away`,
    (value) => ({ ...value, files: value.files.filter((each) => each !== file) }),
    { refit: true },
  );
}

/** Says what a file is; where only one may be that, the one before becomes a position. */
export function setRole(file: ProjectFile, role: FileRole): void {
  change(
    `use ${file.name} as ${role}`,
    (value) => ({
      ...value,
      files: value.files.flatMap((each) => {
        if (each === file) return [{ ...file, role }];
        if (SINGLE.includes(role) && each.role === role) return [];
        return [each];
      }),
    }),
    { refit: true },
  );
}

/**
 * Reads an impulse response another way.
 *
 * @returns what is wrong with that, in words; undefined where it was taken
 */
export async function readAnotherWay(
  file: ProjectFile,
  { gate, channel }: Pick<ProjectFile, 'gate' | 'channel'>,
): Promise<string | undefined> {
  const { gate: _, channel: __, ...rest } = file;
  const fresh = { ...rest, ...(gate !== undefined && { gate }), ...(channel !== undefined && { channel }) };
  try {
    await withUnitEngine(() => checkFile(fresh));
  } catch (error) {
    if (error instanceof InputError) return error.message;
    throw error;
  }
  change(
    `read ${file.name} another way`,
    (value) => ({ ...value, files: value.files.map((each) => (each === file ? fresh : each)) }),
    { refit: true },
  );
  return undefined;
}

export const hasFiles = () => project.value.files.length > 0;
