import { InputError } from '../../src/inputError.js';
import { openKept } from '../state/keeping.js';
import { project, UNTITLED } from '../state/present.js';
import { notice, refused } from '../state/told.js';
import type { FileRole, Project, ProjectFile } from '../store/project.js';
import { SINGLE_ROLES } from '../store/project.js';
import { askRoles, askWhetherBeside } from './askRoles.js';
import { addFiles, madeWay } from './changeFiles.js';
import { ownFiles, showsDemo } from './ownFiles.js';
import { readAlike } from './readAlike.js';
import { type Given, readGiven } from './readGiven.js';
import { roleWords } from './roles.js';

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
  const { given, problems } = await readAll(list, measuredAs);
  const worksheet = given.find((each) => each.kind === 'worksheet');
  if (worksheet) {
    await openAlone(worksheet, list);
    return;
  }
  const all = oneOfEach(given.flatMap((each) => (each.kind === 'file' ? [each.file] : [])));
  const targets = given.filter((each) => each.kind === 'target');
  const target = targets.at(-1);
  const isAnew = startsAnew(all.taken, project.peek());
  const present = isAnew ? ownFiles(project.peek()) : project.peek().files;
  const files = measuredAs === 'promised' ? all : withoutStrayDesign(all, present);
  const { fresh, inPlaceOfAfter, said } = await asTheUserSays(files.taken, present);
  if (fresh.length > 0 || target)
    addFiles({ files: fresh, target: target?.target, stay: isAnew ? present : undefined, inPlaceOfAfter });
  const told = [
    ...given.flatMap((each) => (each.kind === 'file' || each === target ? each.said : [])),
    ...said,
    // What stood there of the demo is not missed.
    ...madeWay(present, fresh),
  ];
  if (told.length > 0) notice.value = told.join(' ');
  refused.value = [
    ...problems,
    ...files.surplus,
    ...targets
      .slice(0, -1)
      .map(({ name }) => `${name}: found a second target beside ${target!.name}, expected one`),
  ];
}

/** What can be read of what was given, and what is wrong with the rest. */
async function readAll(list: readonly File[], measuredAs?: FileRole) {
  const given: Given[] = [];
  const problems: string[] = [];
  for (const file of list) {
    try {
      given.push(await readGiven(file, measuredAs));
    } catch (error) {
      problems.push(
        error instanceof InputError
          ? error.message
          : `${file.name}: this is a fault of Nullwise, not of the file: ${error instanceof Error ? error.message : String(error)}`,
      );
    }
  }
  return { given, problems };
}

/** Opens a worksheet, which goes with nothing else that was given. */
async function openAlone(
  { name, worksheet }: Given & { readonly kind: 'worksheet' },
  list: readonly File[],
): Promise<void> {
  await openKept(worksheet);
  const at = list.findIndex((file) => file.name === name);
  refused.value = list
    .filter((_, i) => i !== at)
    .map(
      (other) =>
        `${other.name}: found it beside the worksheet ${name}, expected a worksheet alone; add it now`,
    );
  notice.value = `Opened ${worksheet.name === UNTITLED ? name : `“${worksheet.name}”`}.`;
}

/** Of a kind of which a worksheet has one, the last that was given; why the others are not taken, in words. */
function oneOfEach(files: readonly ProjectFile[]) {
  const last = new Map(files.map((file) => [file.role, file]));
  const isTaken = (file: ProjectFile) => !SINGLE_ROLES.includes(file.role) || last.get(file.role) === file;
  return {
    taken: files.filter(isTaken),
    surplus: files
      .filter((file) => !isTaken(file))
      .map(({ name, role }) => secondOfKind(name, role, last.get(role)!.name)),
  };
}

function secondOfKind(name: string, role: FileRole, other: string): string {
  return (
    `${name}: found a second “${roleWords(role)}” beside ${other}, expected one; if ${other} is something else, ` +
    `say so in the list and add ${name} again`
  );
}

/**
 * Asks what may be doubted of files, and reads them like those that they come to.
 *
 * @param present the files of the worksheet that stay
 * @returns those that are wanted, as what they are, whether they take the place of earlier ones with the filters in, and
 * what is to be said
 */
async function asTheUserSays(files: readonly ProjectFile[], present: readonly ProjectFile[]) {
  const known = await askRoles(files, present);
  const areBeside = await askWhetherBeside(known, present);
  const fresh: ProjectFile[] = [];
  const said: string[] = [];
  for (const file of known) {
    if (file.role === 'after' && areBeside === undefined) continue;
    const alike = await readAlike(file, [...present, ...known]);
    if (alike.gate !== undefined)
      said.push(`Of ${file.name} as much counts as of what was measured before: ${gateWords(alike.gate)}.`);
    fresh.push(alike);
  }
  return { fresh, inPlaceOfAfter: areBeside === false, said };
}

const gateWords = (gate: string) =>
  gate === 'auto' ? 'what comes before the first strong reflection' : `${gate} after the direct sound`;

/** A finished design is no part of what another is made from. */
function withoutStrayDesign(
  { taken, surplus }: ReturnType<typeof oneOfEach>,
  present: readonly ProjectFile[],
): ReturnType<typeof oneOfEach> {
  if (!present.some(({ role }) => role === 'position')) return { taken, surplus };
  const isStray = ({ role }: ProjectFile) => role === 'promised';
  return {
    taken: taken.filter((file) => !isStray(file)),
    surplus: [...surplus, ...taken.filter(isStray).map(({ name }) => strayDesign(name))],
  };
}

const strayDesign = (name: string) =>
  `${name}: found a finished design, expected what it was made from (measurements, set-up, equalizer) or a worksheet; ` +
  'where it is that of the other speaker, add it under “Measured again”, and there too where what was measured again ' +
  'is to be held against it';

/** One's own measurement or design takes the place of the demo; nothing of that belongs to it, what was added to it stays. */
function startsAnew(fresh: readonly ProjectFile[], present: Project): boolean {
  return fresh.some(({ role }) => role === 'position' || role === 'promised') && showsDemo(present);
}
