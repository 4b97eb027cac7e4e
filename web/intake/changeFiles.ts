import { InputError } from '../../src/inputError.js';
import { withUnitEngine } from '../../src/units/withUnitEngine.js';
import { project, UNTITLED } from '../state/present.js';
import { change } from '../state/session.js';
import { notice, refused } from '../state/told.js';
import { decides } from '../store/checkRoles.js';
import { type FileRole, type Project, type ProjectFile, SINGLE_ROLES } from '../store/project.js';
import { checkFile } from '../work/readJob.js';
import { roleWords } from './roles.js';

export interface Addition {
  readonly files: readonly ProjectFile[];
  readonly target: Project['options']['target'];
  /** The worksheet begins anew with them and these; undefined where it goes on. */
  readonly stay: readonly ProjectFile[] | undefined;
  /** They take the place of what was measured with the filters in before. */
  readonly inPlaceOfAfter: boolean;
}

const ANEW: Project = { schemaVersion: 1, name: UNTITLED, files: [], options: {}, overrules: [] };

/** Adds files, and a target, as one change. */
export function addFiles({ files, target, stay, inPlaceOfAfter }: Addition): void {
  const names = files.map(({ name }) => name).join(', ') || 'a target';
  const singles = files.map(({ role }) => role).filter((role) => SINGLE_ROLES.includes(role));
  const stays = ({ role }: ProjectFile) => !singles.includes(role) && !(inPlaceOfAfter && role === 'after');
  change(
    `add ${names}`,
    (value) => {
      const base = stay ? { ...ANEW, files: stay } : value;
      return {
        ...base,
        files: [...base.files.filter(stays), ...files],
        options: { ...base.options, ...(target && { target }) },
      };
    },
    { refit: target !== undefined || files.some(decides) },
  );
}

/**
 * Which files had to go for those that were taken, in words.
 *
 * @param before the files that were there
 */
export function madeWay(before: readonly ProjectFile[], taken: readonly ProjectFile[]): string[] {
  const now = project.peek().files;
  return taken.flatMap(({ name, role }) => {
    const gone = before.find(
      (file) => file.role === role && SINGLE_ROLES.includes(role) && !now.includes(file),
    );
    return gone ? [`${name} took the place of ${gone.name}: only one can be “${roleWords(role)}”.`] : [];
  });
}

export function removeFile(file: ProjectFile): void {
  change(
    `take ${file.name} away`,
    (value) => ({ ...value, files: value.files.filter((each) => each !== file) }),
    { refit: decides(file) },
  );
}

/** Says what a file is, if it can be read as that; where only one may be that, the one before goes. */
export async function setRole(file: ProjectFile, role: FileRole): Promise<void> {
  const fresh = { ...file, role };
  try {
    await withUnitEngine(() => checkFile(fresh));
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    refused.value = [`Not taken as “${roleWords(role)}”: ${error.message}`];
    return;
  }
  const before = project.peek().files;
  change(
    `use ${file.name} as “${roleWords(role)}”`,
    (value) => ({
      ...value,
      files: value.files.flatMap((each) => {
        if (each === file) return [fresh];
        if (SINGLE_ROLES.includes(role) && each.role === role) return [];
        return [each];
      }),
    }),
    { refit: decides(file) || decides(fresh) },
  );
  const said = madeWay(before, [fresh]);
  if (said.length > 0) notice.value = said.join(' ');
  refused.value = [];
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
    { refit: decides(file) },
  );
  return undefined;
}
