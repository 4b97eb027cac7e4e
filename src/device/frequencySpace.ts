import { type Bands, byFrequency } from '../fit/bands.js';
import type { Bounds } from '../fit/bounds.js';
import type { Objective } from '../fit/objective.js';
import { type Refined, refine } from '../fit/refine.js';

/** What is searched where a device's frequencies lie far apart: those come from a list, gains and Qs are free. */
export interface FrequencySpace {
  readonly objective: Objective;
  readonly bounds: Bounds;
  /** Ascending natural logarithms. */
  readonly lnF: Float64Array;
  readonly types: readonly number[];
  readonly maxBands: number;
  readonly isAllowed: (types: Uint8Array) => boolean;
  /** Banks that were tried, by their types and frequencies: gains and Qs follow from those. */
  readonly visited: Set<string>;
  /** Told of every bank that was looked at to its end. */
  readonly note: (bank: Refined) => void;
}

const frequencyStays = (j: number) => j % 3 === 0;
/** A first look, which tells most moves to be in vain … */
const LOOK = { maxIterations: 2, tolerance: 1e-2, frozen: frequencyStays };
/** … and what a bank is compared by. */
const SETTLE = { maxIterations: 10, tolerance: 1e-3, frozen: frequencyStays };
/** What stands this far above the present value after a first look, or after five steps, is given up. */
const HOPELESS = { look: 1.06, settling: 1.01 };
/** Squared dB added to both, since near a perfect fit every move begins many times above it. */
const NEVER_HOPELESS = { look: 0.01, settling: 0.0025 };

export function look({ objective, bounds }: FrequencySpace, bands: Bands, maxIterations = 2): Refined {
  return refine(objective, bands, bounds, { ...LOOK, maxIterations });
}

export function settle({ objective, bounds }: FrequencySpace, bands: Bands): Refined {
  return refine(objective, bands, bounds, SETTLE);
}

/** A bank with gains and Qs settled; undefined where it has been tried before or leads nowhere. */
export function triedOnce(space: FrequencySpace, bands: Bands, present: number): Refined | undefined {
  const key = frequenciesOf(bands);
  if (space.visited.has(key)) return undefined;
  space.visited.add(key);
  const first = look(space, bands);
  if (first.value > present * HOPELESS.look + NEVER_HOPELESS.look) return undefined;
  return refine(space.objective, first.bands, space.bounds, {
    ...SETTLE,
    patience: 3,
    hopelessAbove: present * HOPELESS.settling + NEVER_HOPELESS.settling,
  });
}

/** Types and frequencies of a bank as a key. */
export function frequenciesOf(bands: Bands): string {
  return byFrequency(bands)
    .map((i) => `${bands.types[i]}:${bands.values[3 * i]!.toFixed(4)}`)
    .join(' ');
}

/** The place of the nearest frequency. */
export function placeOf(lnF: Float64Array, x: number): number {
  let best = 0;
  for (let i = 1; i < lnF.length; i++) if (Math.abs(lnF[i]! - x) < Math.abs(lnF[best]! - x)) best = i;
  return best;
}
