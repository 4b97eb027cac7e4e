import { computed, signal } from '@preact/signals';
import type { Curve } from '../../src/curve/curve.js';
import { interpolateLevel } from '../../src/curve/interpolateLevel.js';
import { eqDomain } from '../../src/export/plot/eqDomain.js';
import { frequencyDomain } from '../../src/export/plot/frequencyDomain.js';
import { levelDomain } from '../../src/export/plot/levelDomain.js';
import { measuredAgain, outcome } from '../state/found.js';
import { project } from '../state/present.js';
import { shown } from '../state/shown.js';
import type { View } from './frame.js';

/** What the user zoomed to; all of it where undefined. */
export const zoom = signal<(Pick<View, 'fromHz' | 'toHz'> & Partial<View>) | undefined>(undefined);

/** Where the values are read off. */
export const cursorHz = signal<number | undefined>(undefined);

/** The finding that is looked at, by its frequency. */
export const selectedHz = signal<number | undefined>(undefined);

/** The filter that is looked at, by its place in the list. */
export const selectedFilter = signal<number | undefined>(undefined);

/** The span that is left alone and that the pointer or the focus is on, by its lower end. */
export const zoneAt = signal<number | undefined>(undefined);

export interface Shows {
  readonly raw: boolean;
  readonly smoothed: boolean;
  readonly target: boolean;
  readonly expected: boolean;
  readonly sum: boolean;
  readonly single: boolean;
  readonly mask: boolean;
}

export const shows = signal<Shows>({
  raw: true,
  smoothed: true,
  target: true,
  expected: true,
  sum: true,
  single: false,
  mask: true,
});

/**
 * Domains hold the fit and what a hand has made of it. They grow by whole steps of the axes only, so that the chart mostly
 * stands still while something is dragged.
 */
const domains = computed((): View | undefined => {
  const fit = outcome.value?.design;
  const now = shown.value;
  if (!fit || !now) return undefined;
  const [fromHz, toHz] = frequencyDomain(fit);
  const levels = [...levelDomain(fit), ...levelDomain(now)];
  const sums = [...eqDomain(fit), ...eqDomain(now)];
  const gains = (project.value.filters ?? []).map(({ filter }) => filter.gainDb);
  return {
    fromHz,
    toHz,
    lowDb: Math.min(...levels),
    highDb: Math.max(...levels),
    eqLowDb: Math.min(-9, ...sums, ...gains.map((db) => Math.floor((db - 1) / 3) * 3)),
    eqHighDb: Math.max(6, ...sums, ...gains.map((db) => Math.ceil((db + 1) / 3) * 3)),
  };
});

export const view = computed((): View | undefined => {
  const all = domains.value;
  return all && { ...all, ...zoom.value };
});

/** Measured again, to be read off: made once and not for every move of the cursor. */
const againCurve = computed((): Curve | undefined => {
  const again = measuredAgain.value;
  return (
    again && {
      frequencyHz: Float64Array.from(again.frequencyHz),
      levelDb: Float64Array.from(again.measuredDb),
    }
  );
});

/** What the cursor reads, in the order of the curves. */
export const readOut = computed(() => {
  const design = shown.value;
  const hz = cursorHz.value;
  if (!design || hz === undefined) return undefined;
  const { frequencyHz } = design.curves;
  let at = 0;
  for (let i = 1; i < frequencyHz.length; i++) {
    if (Math.abs(Math.log(frequencyHz[i]! / hz)) < Math.abs(Math.log(frequencyHz[at]! / hz))) at = i;
  }
  const { measuredDb, smoothedDb, targetDb, eqDb } = design.curves;
  const again = againCurve.value;
  const isWithin = again && hz >= again.frequencyHz[0]! && hz <= again.frequencyHz.at(-1)!;
  return {
    ...(isWithin && { againDb: interpolateLevel(again, frequencyHz[at]!) }),
    hz: frequencyHz[at]!,
    measuredDb: measuredDb[at]!,
    smoothedDb: smoothedDb[at]!,
    targetDb: targetDb[at]!,
    eqDb: eqDb[at]!,
    expectedDb: smoothedDb[at]! + eqDb[at]!,
  };
});
