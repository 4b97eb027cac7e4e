import { cleanText } from '../../src/export/words/cleanText.js';
import { joinWords } from '../../src/export/words/joinWords.js';
import type { FileRole, Project, ProjectFile } from '../store/project.js';
import { ask, type Choice } from './question.js';

const REFIT = 'The filters are fitted anew.';

const MEASURED: readonly Choice<FileRole>[] = [
  {
    value: 'after',
    title: 'Measured with the filters in',
    note: 'Held against what was promised. The filters stay as they are.',
  },
  {
    value: 'position',
    title: 'Another position, without filters',
    note: `Averaged with what was measured before. ${REFIT}`,
  },
  {
    value: 'repeat',
    title: 'The first position again, without filters',
    note: `Tells how well your measuring repeats; no band is spent on less. ${REFIT}`,
  },
  {
    value: 'placement',
    title: 'The same speaker at another place, without filters',
    note: `Tells what belongs to the placement. ${REFIT}`,
  },
];

/** Of use only where there is something to compare with. */
const TO_COMPARE: Choice<FileRole> = {
  value: 'before',
  title: 'Without filters, only to compare',
  note: 'What was measured with the filters in is held against it. The filters stay as they are.',
};

/** Beside a saved design nothing else need be measured. */
const BESIDE_SAVED: readonly Choice<FileRole>[] = [
  MEASURED[0]!,
  {
    value: 'before',
    title: 'Without filters, only to compare',
    note: 'What was measured with the filters in is held against it, in place of what the design was made from.',
  },
  {
    value: 'position',
    title: 'Without filters, to be corrected',
    note: 'Filters are fitted to it. The saved design stays as it is.',
  },
];

const named = (files: readonly ProjectFile[]) => joinWords(files.map(({ name }) => cleanText(name)));

/**
 * Measurements that come to others, or to a saved design, are either more of the same or what the filters make of it, and their names need not
 * say which: taken for the wrong one, they would change the filters that they are to prove. So the user is asked.
 *
 * @param before the files of the worksheet that they come to
 * @returns the files as what they are; without those that the user leaves out
 */
export async function askRoles(
  fresh: readonly ProjectFile[],
  before: Project['files'],
): Promise<readonly ProjectFile[]> {
  const doubtful = fresh.filter(({ role }) => role === 'position');
  const all = [...before, ...fresh];
  const isMeasured = before.some(({ role }) => role === 'position');
  const isSaved = all.some(({ role }) => role === 'promised');
  if (doubtful.length === 0 || !(isMeasured || isSaved)) return fresh;
  const each = doubtful.length === 1 ? '' : ' If they are not all the same, add them one after the other.';
  const isChecked = all.some(({ role }) => role === 'after');
  const role = await ask(
    `What ${doubtful.length === 1 ? 'is' : 'are'} ${named(doubtful)}?${each}`,
    isMeasured ? [...MEASURED, ...(isChecked ? [TO_COMPARE] : [])] : BESIDE_SAVED,
  );
  return fresh.flatMap((file) => {
    if (!doubtful.includes(file)) return [file];
    return role === undefined ? [] : [{ ...file, role }];
  });
}

/**
 * Measurements with the filters in that come to earlier ones: to be averaged with them, or made after something was
 * mended.
 *
 * @returns whether the earlier ones stay; undefined where the user leaves the new ones out
 */
export async function askWhetherBeside(
  fresh: readonly ProjectFile[],
  before: Project['files'],
): Promise<boolean | undefined> {
  const isAfter = ({ role }: ProjectFile) => role === 'after';
  const [added, earlier] = [fresh.filter(isAfter), before.filter(isAfter)];
  if (added.length === 0 || earlier.length === 0) return true;
  return ask(`${named(added)}: in place of ${named(earlier)}, or beside?`, [
    {
      value: false,
      title: earlier.length === 1 ? 'In its place' : 'In their place',
      note: 'Something was mended in between, or the earlier measurement went wrong.',
    },
    {
      value: true,
      title: earlier.length === 1 ? 'Beside it' : 'Beside them',
      note: 'The same filters measured again, or at another position: they are averaged.',
    },
  ]);
}
