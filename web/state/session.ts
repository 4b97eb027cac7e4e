import { batch } from '@preact/signals';
import type { Filter } from '../../src/filter/filter.js';
import type { Design } from '../../src/schema/design.js';
import { endGesture, record, redo, startHistory, undo } from '../store/history.js';
import type { Project } from '../store/project.js';
import { openOffice } from '../work/office.js';
import { keyOf } from './designKey.js';
import { filledIn } from './filledIn.js';
import {
  bandsCurve,
  basisOfKey,
  curveDue,
  cutShort,
  elsewhere,
  explained,
  outcome,
  readings,
  verified,
} from './found.js';
import { amend, history, project, worksheet } from './present.js';
import { device, hasPositions, setup } from './shown.js';
import { problems, step } from './told.js';
import { withDeviceFile } from './withDeviceFile.js';

const office = openOffice({
  onStep: (words) => {
    step.value = words;
  },
  onRead: (files, job) => {
    // What was read before may be come back to by an undo.
    readings.value = new Map([
      ...readings.value,
      ...files.map((reading, i) => [job.files[i]!, reading] as const),
    ]);
  },
  onRefused: (list) => {
    problems.value = list;
    cutShort.value = false;
  },
  onBasis: (found, job) => {
    batch(() => {
      basisOfKey.value = { ...found, key: keyOf(job) };
      explained.value = undefined;
      elsewhere.value = undefined;
    });
  },
  onDesign: (design, whole, job) => {
    batch(() => {
      problems.value = [];
      cutShort.value = false;
      bandsCurve.value = undefined;
      curveDue.value = whole;
      outcome.value = { design, whole, isOwn: job.held.length === 0, key: keyOf(job) };
      fillIn(design, whole);
    });
  },
  onAgainstBands: (curve, job) => {
    batch(() => {
      bandsCurve.value = { curve, key: keyOf(job) };
      curveDue.value = false;
    });
  },
  onExplained: (found) => {
    // What comes from a worker is a copy; the plan tells by the set-up itself whether it is of the same place.
    explained.value = found && setup.value ? { ...found, setup: setup.value } : undefined;
  },
  onElsewhere: (design, where) => {
    elsewhere.value = { design, setup: where };
  },
  onVerified: (verification) => {
    verified.value = { verification };
  },
  onNotVerified: (problem) => {
    verified.value = { problem };
  },
  onIdle: () => {
    step.value = undefined;
    begun = '';
  },
  onFailed: (message) => {
    problems.value = [`This is a fault of Nullwise, not of your files: ${message}`];
  },
});

/** Puts what was fitted in the place of the filters that nobody holds. */
function fillIn(design: Design, whole: boolean): void {
  const filled = filledIn(project.value, design, whole, device.value);
  if (filled !== project.value) amend(filled);
}

const held = (value: Project): Filter[] =>
  value.refit
    ? (value.filters ?? []).flatMap(({ filter, locked, on }) => (locked && on ? [filter] : []))
    : [];

/** Whether the design shown is the whole one of a project. */
const isUpToDate = (value: Project) =>
  outcome.peek()?.key === keyOf(value) && (outcome.peek()?.whole || cutShort.peek());

/** What the office is at. */
let begun = '';

/** Sees to it that the design belongs to the project. */
function update(): void {
  const value = project.value;
  const { files, options, overrules } = value;
  const key = keyOf(value);
  if (!hasPositions(value)) {
    office.cancel();
    curveDue.value = false;
    outcome.value = undefined;
    problems.value = [];
    // They are read all the same, so that each says what is in it.
    if (files.length > 0) office.begin({ files, options, overrules, held: [] }, false);
    return;
  }
  const made = outcome.value?.key === key ? outcome.value : undefined;
  const isDone =
    made !== undefined &&
    !value.refit &&
    (value.filters !== undefined || made.isOwn) &&
    (made.whole || cutShort.value);
  const isRead = files.every((file) => readings.value.has(file));
  if (isDone && isRead && basisOfKey.value?.key === key) {
    if (begun !== '') office.cancel();
    problems.value = [];
    return;
  }
  const wanted = JSON.stringify([key, held(value), isDone, isRead]);
  if (wanted === begun) return;
  begun = wanted;
  curveDue.value = false;
  office.begin({ files, options, overrules, held: held(value) }, !isDone);
}

/** Something small for the workers besides the design. */
export const askBesides = office.besides;

export interface ChangeOptions {
  /** Names a gesture, such as a drag, all of which is one step. */
  readonly tag?: string;
  /** The filters that nobody holds are to be fitted anew. */
  readonly refit?: boolean;
}

/** A place to which the speaker was moved belongs to the set-up in which it was moved. */
function withoutEarlierPlace(before: Project, after: Project): Project {
  const setupOf = ({ files }: Project) => files.find(({ role }) => role === 'setup');
  if (after.whatIf === undefined || setupOf(after) === setupOf(before)) return after;
  const { whatIf: _, ...rest } = after;
  return rest;
}

/** One change of the project that can be undone. */
export function change(
  label: string,
  next: (value: Project) => Project,
  { tag, refit }: ChangeOptions = {},
): void {
  const before = project.value;
  const after = withoutEarlierPlace(before, next(before));
  // Who takes hold of a filter before the fit has followed the last change still wants the others to follow it.
  const isBehind = after.filters !== before.filters && !isUpToDate(after);
  const settled = after.filters && (refit || isBehind) ? { ...after, refit: true } : after;
  history.value = record(history.value, settled, { label, ...(tag !== undefined && { tag }) });
  update();
}

export function endOfGesture(): void {
  history.value = endGesture(history.value);
}

export function undoChange(): void {
  history.value = undo(history.value);
  update();
}

export function redoChange(): void {
  history.value = redo(history.value);
  update();
}

/**
 * Another project; what was done before can no longer be undone.
 *
 * @param known its design, where that has been worked out before
 */
export function openProject(opened: Project, known?: Design): void {
  const value = withDeviceFile(opened);
  batch(() => {
    history.value = startHistory(value);
    worksheet.value += 1;
    readings.value = new Map([...readings.value].filter(([file]) => value.files.includes(file)));
    if (outcome.value?.key !== keyOf(value))
      outcome.value = known ? { design: known, whole: true, isOwn: true, key: keyOf(value) } : undefined;
    cutShort.value = false;
    problems.value = [];
    update();
  });
}

/** Ends the search; the first look stands. */
export function cancelSearch(): void {
  office.cancel();
  cutShort.value = true;
  const { refit: _, ...rest } = project.value;
  amend(rest);
}

export function searchAgain(): void {
  cutShort.value = false;
  update();
}
