import { cleanText } from '../../src/export/words/cleanText.js';
import { InputError } from '../../src/inputError.js';
import { readCurveText } from '../../src/measurement/readCurveText.js';
import { readTarget } from '../../src/schema/target.js';
import { withUnitEngine } from '../../src/units/withUnitEngine.js';
import { demoProject } from '../demo.js';
import { openKept } from '../state/keeping.js';
import { project, UNTITLED } from '../state/present.js';
import { change } from '../state/session.js';
import { notice, refused } from '../state/told.js';
import type { FileRole, Project, ProjectFile } from '../store/project.js';
import { parseProject } from '../store/project.js';
import { projectFile } from '../store/projectFile.js';
import { drawnTarget } from '../store/projectOptionsSchema.js';
import { checkFile } from '../work/readJob.js';
import { askRoles, askWhetherBeside } from './askRoles.js';
import { firstReadable } from './firstReadable.js';
import { guessRole } from './guessRole.js';
import { readAlike } from './readAlike.js';
import { roleWords, SINGLE } from './roles.js';

const MAX_BYTES = 24 * 2 ** 20;

/** What was given before is taken first, as one after the other may be asked about. */
let taking: Promise<void> = Promise.resolve();

/**
 * Takes files that were dropped or chosen, each as what it most likely is; where that is a guess that may do harm, the
 * user is asked.
 *
 * @param measuredAs what measurements among them are, where the user has said so
 */
export function takeFiles(list: readonly File[], measuredAs?: FileRole): Promise<void> {
  const taken = taking.then(() => takeNow(list, measuredAs));
  taking = taken.catch(() => undefined);
  return taken;
}

async function takeNow(list: readonly File[], measuredAs?: FileRole): Promise<void> {
  const notTaken: string[] = [];
  const fresh: ProjectFile[] = [];
  const said: string[] = [];
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
      const isSaid = measuredAs !== undefined && !isJson(file.name, text);
      const role = isSaid ? measuredAs : guessRole(file.name, text);
      if (role === 'project') {
        // Read whole before anything is given up.
        const opened = parseProject(text ?? '', file.name);
        await openKept(opened);
        refused.value = list.flatMap((other) =>
          other === file
            ? []
            : [
                `${other.name}: found it beside the worksheet ${file.name}, expected a worksheet alone; add it now`,
              ],
        );
        notice.value = `Opened “${opened.name}”.`;
        return;
      }
      if (role === 'design') {
        throw new InputError(
          `${file.name}: found a finished design, expected what it was made from (measurements, set-up, device) or a project`,
        );
      }
      if (role === 'target') {
        const byContent = /^\s*\{/.test(text ?? '');
        const { curve, warnings } = await withUnitEngine(() =>
          byContent
            ? { curve: readTarget(text ?? '', file.name), warnings: [] }
            : readCurveText(bytes, file.name),
        );
        target = drawnTarget(curve);
        said.push(targetTaken(file.name, byContent), ...warnings.map(({ message }) => cleanText(message)));
        continue;
      }
      // What cannot be read is not taken in the first place.
      const taken = await firstReadable({ ...kept, role });
      if (taken.channel !== undefined)
        said.push(
          `Channel ${taken.channel} of ${file.name} is read: those before it hold no impulse response.`,
        );
      fresh.push(taken);
    } catch (error) {
      notTaken.push(
        error instanceof InputError
          ? error.message
          : `${file.name}: could not be read, expected a file, not a folder`,
      );
    }
  }
  const isAnew = startsAnew(fresh, project.peek());
  const known = isAnew ? fresh : await askRoles(fresh, project.peek().files);
  const areBeside = isAnew || (await askWhetherBeside(known, project.peek().files));
  const present = isAnew ? [] : project.peek().files;
  const wanted: ProjectFile[] = [];
  for (const file of known) {
    if (file.role === 'after' && areBeside === undefined) continue;
    const alike = await readAlike(file, present);
    if (alike.gate !== undefined)
      said.push(`Of ${file.name} as much counts as of what was measured before: ${gateWords(alike.gate)}.`);
    wanted.push(alike);
  }
  const last = new Map(wanted.map((file) => [file.role, file]));
  const isTaken = (file: ProjectFile) => !SINGLE.includes(file.role) || last.get(file.role) === file;
  const taken = wanted.filter(isTaken);
  notTaken.push(
    ...wanted
      .filter((file) => !isTaken(file))
      .map(({ name, role }) => secondOfKind(name, role, last.get(role)!.name)),
  );
  // What stood there of the demo is not missed.
  const before = startsAnew(taken, project.peek()) ? [] : project.peek().files;
  if (taken.length > 0 || target) addFiles(taken, target, areBeside === false);
  said.push(...madeWay(before, taken));
  if (said.length > 0) notice.value = said.join(' ');
  refused.value = notTaken;
}

/** What is written in JSON is known by what is in it, whatever else the user may say. */
const isJson = (name: string, text: string | undefined) => /^\s*\{/.test(text ?? '') || /\.json$/i.test(name);

const gateWords = (gate: string) =>
  gate === 'auto' ? 'what comes before the first strong reflection' : `${gate} after the direct sound`;

function targetTaken(name: string, byContent: boolean): string {
  const doubt = byContent ? '' : ' by its name; if it is a measurement, undo and call it otherwise';
  return `${name} was taken as the target${doubt}.`;
}

function secondOfKind(name: string, role: FileRole, other: string): string {
  return (
    `${name}: found a second “${roleWords(role)}” beside ${other}, expected one; if ${other} is something else, ` +
    `say so in the list and add ${name} again`
  );
}

/** Which files had to go for those that were taken, in words. */
function madeWay(before: readonly ProjectFile[], taken: readonly ProjectFile[]): string[] {
  const now = project.peek().files;
  return taken.flatMap(({ name, role }) => {
    const gone = before.find((file) => file.role === role && SINGLE.includes(role) && !now.includes(file));
    return gone ? [`${name} took the place of ${gone.name}: only one can be “${roleWords(role)}”.`] : [];
  });
}

/** What was measured with the filters in is held against them, so that they stay as they are. */
const decides = ({ role }: ProjectFile) => role !== 'after';

/** One's own measurement takes the place of the demo; nothing of that belongs to it. */
function startsAnew(fresh: readonly ProjectFile[], { files }: Project): boolean {
  return (
    fresh.some(({ role }) => role === 'position') &&
    files.some((file) => demoProject.files.some(({ content }) => content === file.content))
  );
}

function addFiles(
  fresh: readonly ProjectFile[],
  target: Project['options']['target'],
  inPlaceOfAfter: boolean,
): void {
  const names = fresh.map(({ name }) => name).join(', ') || 'a target';
  change(
    `add ${names}`,
    (value) => {
      const base: Project = startsAnew(fresh, value)
        ? { schemaVersion: 1, name: UNTITLED, files: [], options: {}, overrules: [] }
        : value;
      const singles = fresh.map(({ role }) => role).filter((role) => SINGLE.includes(role));
      const before = base.files.filter(
        ({ role }) => !singles.includes(role) && !(inPlaceOfAfter && role === 'after'),
      );
      return {
        ...base,
        files: [...before, ...fresh],
        options: { ...base.options, ...(target && { target }) },
      };
    },
    { refit: target !== undefined || fresh.some(decides) },
  );
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
    `use ${file.name} as ${role}`,
    (value) => ({
      ...value,
      files: value.files.flatMap((each) => {
        if (each === file) return [fresh];
        if (SINGLE.includes(role) && each.role === role) return [];
        return [each];
      }),
    }),
    { refit: true },
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

export const hasFiles = () => project.value.files.length > 0;
