import { type Bands, withBand } from '../bank/bands.js';
import type { Bounds } from '../bank/bounds.js';
import { fitsSlots } from '../bank/fitsSlots.js';
import type { Objective } from '../objective/objective.js';
import { objectiveValue } from '../refinement/objectiveValue.js';
import { type Refined, refine } from '../refinement/refine.js';
import { type Candidate, candidates, type Dictionary } from './dictionary.js';

/** What every move of the search works on. */
export interface SearchSpace {
  readonly objective: Objective;
  readonly dictionary: Dictionary;
  readonly bounds: Bounds;
  readonly maxBands: number;
  /** Kinds of band that may be used. */
  readonly types: readonly number[];
  /** Of each band, what it may be; any of `types` where absent. */
  readonly slots?: readonly (readonly number[])[];
}

/** A first look at where a new band settles … */
export const QUICK = { maxIterations: 3, tolerance: 3e-3 };
/** … the same with only its neighbours moving … */
export const LOCAL = { maxIterations: 5, tolerance: 1e-2 };
/** … and a refinement good enough to compare banks by. */
export const THOROUGH = { maxIterations: 14, tolerance: 1e-3 };

/** … and what a growing bank gets between one band and the next. */
export const SETTLE = { maxIterations: 4, tolerance: 5e-3 };

/** A move is dropped when three iterations leave it this far above the chain's present value. */
export const HOPELESS = 1.1;
/** Squared dB added to every such limit: near a perfect fit each move begins many times above it, and may still end below. */
export const NEVER_HOPELESS = 0.08;

/** What a bank comes to; given up early where it stands hopelessly above `value`. */
export function tryBank({ objective, bounds }: SearchSpace, bands: Bands, value: number): Refined {
  const hopelessAbove = value * HOPELESS + NEVER_HOPELESS;
  return refine(objective, bands, bounds, { ...THOROUGH, hopelessAbove, patience: 3 });
}

export const byValue = (a: Refined, b: Refined) => a.value - b.value;

/** The bands that would help a bank most, the best first. */
export function propose(space: SearchSpace, bands: Bands, count: number, only?: number): Candidate[] {
  const { objective, dictionary, bounds } = space;
  objectiveValue(objective, bands);
  return candidates(
    dictionary,
    objective.grid,
    bounds,
    objective.residual,
    objective.eqDb,
    count,
    withRoom(space, bands).filter((type) => only === undefined || type === only),
  );
}

export function insert(bands: Bands, { type, lnF, gainDb, lnQ }: Candidate): Bands {
  return withBand(bands, type, lnF, gainDb, lnQ);
}

/** Whether the bank's types can be had at once. */
export function isAllowed({ slots }: SearchSpace, { types }: { readonly types: Iterable<number> }): boolean {
  return slots === undefined || fitsSlots(types, slots);
}

/** The types of which one more can be had. */
function withRoom({ slots, types }: SearchSpace, bands: Bands): readonly number[] {
  if (slots === undefined) return types;
  return types.filter(
    (type) =>
      bands.types.reduce((count, held) => count + Number(held === type), 0) <
      slots.filter((slot) => slot.includes(type)).length,
  );
}
