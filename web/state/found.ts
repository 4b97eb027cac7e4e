import { computed, signal } from '@preact/signals';
import type { Setup } from '../../src/acoustics/setup.js';
import type { Design } from '../../src/schema/design.js';
import type { Verification } from '../../src/schema/verification.js';
import type { ExplainedCurve } from '../../src/whatIf/explainCurve.js';
import type { ProjectFile } from '../store/project.js';
import type { FileReading } from '../work/job.js';
import type { DesignBasis } from '../work/messages.js';
import { keyOf } from './designKey.js';
import { project } from './present.js';

interface Outcome {
  readonly design: Design;
  readonly whole: boolean;
  /** No filter was held. */
  readonly isOwn: boolean;
  /** The job without its held filters. */
  readonly key: string;
}

interface Basis extends DesignBasis {
  readonly key: string;
}

/** The error against the number of bands, which follows the design that it belongs to. */
export const bandsCurve = signal<
  { readonly curve: Design['errorAgainstBands']; readonly key: string } | undefined
>(undefined);

/** The fit's last result. */
export const outcome = signal<Outcome | undefined>(undefined);
/** What the design of the project is made from, once that has been read and diagnosed. */
export const basisOfKey = signal<Basis | undefined>(undefined);
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

/** Measured again, at the level of what was promised, where that is what the chart shows. */
export const measuredAgain = computed(() => {
  const found = verified.value;
  // What another design promised may lie elsewhere.
  if (project.value.files.some(({ role }) => role === 'promised')) return undefined;
  return found && 'verification' in found ? found.verification.curves : undefined;
});

/** The search was ended by hand, so that the first look stands. */
export const cutShort = signal(false);
export const readings = signal<ReadonlyMap<ProjectFile, FileReading>>(new Map());

/** The error against the number of bands of the design shown is being worked out. */
export const curveDue = signal(false);

/** What was read of a file of the project. */
export function readingOf(file: ProjectFile): FileReading | undefined {
  return readings.value.get(file);
}
