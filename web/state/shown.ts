import { computed } from '@preact/signals';
import type { Setup } from '../../src/acoustics/setup.js';
import { bandCount } from '../../src/device/profile/bandSlots.js';
import type { DeviceProfile } from '../../src/device/profile/deviceProfile.js';
import { InputError } from '../../src/inputError.js';
import { withFilters } from '../../src/pipeline/withFilters.js';
import type { Design } from '../../src/schema/design.js';
import { readDevice } from '../../src/schema/device.js';
import { readSetup } from '../../src/schema/setup.js';
import type { Project, ProjectFilter } from '../store/project.js';
import { keyOf } from './designKey.js';
import { bandsCurve, curveDue, cutShort, outcome } from './found.js';
import { project, UNTITLED } from './present.js';
import { promised } from './promised.js';
import { retargeted } from './retargeted.js';
import { step } from './told.js';

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
  return name === UNTITLED ? ((shown.value ?? promised.value)?.title ?? UNTITLED) : name;
});

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

export const hasPositions = ({ files }: Pick<Project, 'files'>) =>
  files.some(({ role }) => role === 'position');

/** The search was ended before it had found anything. */
export const isStoppedEmpty = computed(
  () =>
    cutShort.value && outcome.value === undefined && step.value === undefined && hasPositions(project.value),
);
