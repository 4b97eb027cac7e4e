import { batch, computed, signal } from '@preact/signals';
import type { Setup } from '../../src/acoustics/setup.js';
import { bandCount } from '../../src/device/profile/bandSlots.js';
import type { DeviceProfile } from '../../src/device/profile/deviceProfile.js';
import type { Filter } from '../../src/filter/filter.js';
import { InputError } from '../../src/inputError.js';
import { withFilters } from '../../src/pipeline/withFilters.js';
import type { Design } from '../../src/schema/design.js';
import { readDevice } from '../../src/schema/device.js';
import { readSetup } from '../../src/schema/setup.js';
import type { Verification } from '../../src/schema/verification.js';
import type { ExplainedCurve } from '../../src/whatIf/explainCurve.js';
import { demoProject } from '../demo.js';
import {
  endGesture,
  type History,
  record,
  redo,
  redoLabel,
  startHistory,
  undo,
  undoLabel,
} from '../store/history.js';
import type { Project, ProjectFile, ProjectFilter } from '../store/project.js';
import type { FileReading } from '../work/job.js';
import type { DesignBasis } from '../work/messages.js';
import { openOffice } from '../work/office.js';
import { keyOf } from './designKey.js';
import { filledIn } from './filledIn.js';
import { retargeted } from './retargeted.js';
import { withDeviceFile } from './withDeviceFile.js';

/** A project that has no name of its own yet is called after its files. */
export const UNTITLED = 'Untitled worksheet';

const history = signal<History<Project>>(startHistory(demoProject));

export const project = computed(() => history.value.present);
export const canUndo = computed(() => undoLabel(history.value));
export const canRedo = computed(() => redoLabel(history.value));

/** Counts the worksheets that were opened: what is half typed into one says nothing of the next. */
export const worksheet = signal(0);

/** What is being done at the moment, in words. */
export const step = signal<string | undefined>(undefined);
/** What is wrong with files or numbers; the last good result stays. */
export const problems = signal<readonly string[]>([]);
/** What was not taken in, and why; it stays until the user has seen it. */
export const refused = signal<readonly string[]>([]);
/** What was last said to the user, for a moment. */
export const notice = signal<string | undefined>(undefined);

interface Outcome {
  readonly design: Design;
  readonly whole: boolean;
  /** No filter was held. */
  readonly isOwn: boolean;
  /** The job without its held filters. */
  readonly key: string;
}

/** The error against the number of bands, which follows the design that it belongs to. */
const bandsCurve = signal<{ readonly curve: Design['errorAgainstBands']; readonly key: string } | undefined>(
  undefined,
);

/** The fit's last result. */
export const outcome = signal<Outcome | undefined>(undefined);
interface Basis extends DesignBasis {
  readonly key: string;
}

/** What the design of the project is made from, once that has been read and diagnosed. */
const basisOfKey = signal<Basis | undefined>(undefined);
export const basis = computed<DesignBasis | undefined>(() =>
  basisOfKey.value?.key === keyOf(project.value) ? basisOfKey.value : undefined,
);
/** The curve taken apart, for what would be elsewhere. */
export const explained = signal<ExplainedCurve | undefined>(undefined);
/** What a fit would make of the speaker elsewhere. */
export const elsewhere = signal<{ readonly design: Design; readonly setup: Setup } | undefined>(undefined);

/** What measurements with the filters in say of the design, or what stands in the way of comparing. */
export const verified = signal<
  { readonly verification: Verification } | { readonly problem: string } | undefined
>(undefined);

/** Measured again, at the level of what was promised. */
export const measuredAgain = computed(() => {
  const found = verified.value;
  return found && 'verification' in found ? found.verification.curves : undefined;
});

/** The search was ended by hand, so that the first look stands. */
export const cutShort = signal(false);
const readings = signal<ReadonlyMap<ProjectFile, FileReading>>(new Map());

export const device = computed<DeviceProfile | undefined>(() => {
  const file = project.value.files.find(({ role }) => role === 'device');
  return file && quietly(() => readDevice(file.content, file.name));
});

/** The set-up as the file has it; undefined where there is none, or it cannot be read. */
export const setup = computed<Setup | undefined>(() => {
  const file = project.value.files.find(({ role }) => role === 'setup');
  return file && quietly(() => readSetup(file.content, file.name));
});

function quietly<T>(work: () => T): T | undefined {
  try {
    return work();
  } catch {
    return undefined; // the worker tells why
  }
}

/** The filters as the sheet shows them: the user's where there are any, else the fit's. */
export const filters = computed<readonly ProjectFilter[]>(
  () =>
    project.value.filters ??
    (outcome.value?.design.filters ?? []).map((filter) => ({ filter, locked: false, on: true })),
);

interface Shown {
  readonly design: Design;
  readonly problem?: string;
}

const shownWithProblem = computed<Shown | undefined>(() => {
  const fitted = outcome.value?.design;
  if (!fitted) return undefined;
  const own = project.value.filters;
  const { name } = project.value;
  const titled = name === UNTITLED ? fitted : { ...fitted, title: name };
  const { options } = project.value;
  const isCurrent = outcome.value?.key === keyOf(project.value);
  if (!own && isCurrent) return { design: titled };
  const sounding = own ? own.flatMap(({ filter, on }) => (on ? [filter] : [])) : titled.filters;
  try {
    return {
      design: withFilters(isCurrent ? titled : retargeted(titled, options), sounding, {
        device: device.value,
        keepLevel: options.level !== undefined,
      }),
    };
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return { design: titled, problem: error.message };
  }
});

/** The design as it stands, hand edits in it. */
export const shown = computed(() => shownWithProblem.value?.design);

/** What the worksheet is called: by its own name, else by that of what was measured. */
export const worksheetName = computed(() => {
  const { name } = project.value;
  return name === UNTITLED ? (shown.value?.title ?? UNTITLED) : name;
});

/** The error against the number of bands of the design shown is being worked out. */
export const curveDue = signal(false);

const withCurve = (design: Design): Design => {
  const key = keyOf(project.value);
  const { curve, key: ofKey } = bandsCurve.value ?? {};
  const isOfIt = ofKey === key && outcome.value?.key === key;
  return curve && isOfIt && !design.errorAgainstBands ? { ...design, errorAgainstBands: curve } : design;
};

/** The design as it stands, with what follows it: to hand over. Apart from `shown`, so that the chart is not drawn twice. */
export const complete = computed(() => shown.value && withCurve(shown.value));

/** The whole fit's own design once all of it is there, to be kept for the next time. */
export const fitted = computed(() => {
  const made = outcome.value;
  // While a search is under way the last outcome is that of an earlier project.
  const isOfIt = made?.whole && made.isOwn && !curveDue.value && made.key === keyOf(project.value);
  return isOfIt ? withCurve(made.design) : undefined;
});
export const filterProblem = computed(() => shownWithProblem.value?.problem);

export const bandsAllowed = computed(() => {
  const most = device.value && bandCount(device.value);
  const { bands = most ?? 8 } = project.value.options;
  return Math.min(bands, most ?? bands);
});

/** What stands on the sheet is of an earlier state, and nothing is under way to change that. */
export const isBehind = computed(
  () => outcome.value !== undefined && step.value === undefined && outcome.value.key !== keyOf(project.value),
);

const hasPositions = ({ files }: Pick<Project, 'files'>) => files.some(({ role }) => role === 'position');

/** The search was ended before it had found anything. */
export const isStoppedEmpty = computed(
  () =>
    cutShort.value && outcome.value === undefined && step.value === undefined && hasPositions(project.value),
);

/** What was read of a file of the project. */
export function readingOf(file: ProjectFile): FileReading | undefined {
  return readings.value.get(file);
}

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

/** Replaces the present without a step of its own. */
function amend(next: Project): void {
  history.value = { ...history.value, present: next };
}

/** The project has come to be kept under another name. */
export function renamed(name: string): void {
  amend({ ...project.value, name });
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
