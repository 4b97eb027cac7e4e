import { type Bands, HIGH_SHELF, LOW_SHELF, NO_BANDS, withBand, withoutBand } from './bands.js';
import type { Bounds } from './bounds.js';
import { type Candidate, candidates, type Dictionary } from './dictionary.js';
import { type Objective, objectiveValue } from './objective.js';
import { type Refined, refine } from './refine.js';

export interface SearchSpace {
  readonly objective: Objective;
  readonly dictionary: Dictionary;
  readonly bounds: Bounds;
  readonly maxBands: number;
}

export interface SearchEffort {
  /** Independent chains, each from a start of its own. */
  readonly chains: number;
  /** Remove-and-reinsert moves tried per chain. */
  readonly hops: number;
}

const QUICK = { maxIterations: 4, tolerance: 1e-3 };
const THOROUGH = { maxIterations: 20, tolerance: 2e-4 };
/** A hop is dropped when five iterations leave it this far above the chain's best. */
const HOPELESS = 1.35;
/** A chain may drift over ground this little worse: the optima are flat. */
const DRIFT = 1.002;

/**
 * Grows banks one band at a time where each helps most, refining all numbers after each, then improves the full bank
 * by taking out one or two bands and putting them back where the remaining error is largest.
 *
 * @returns the best bank of each chain, the best first
 */
export function searchBanks(space: SearchSpace, effort: SearchEffort, random: () => number): Refined[] {
  const starts = STARTS.map((types) => grow(space, forced(space, types))).sort(byValue);
  const results: Refined[] = [];
  for (let chain = 0; chain < effort.chains; chain++) {
    results.push(improve(space, starts[chain % starts.length]!, effort.hops, random));
  }
  return results.sort(byValue);
}

const byValue = (a: Refined, b: Refined) => a.value - b.value;

/** Shelves to begin with; the wrong choice can double the error, and none of them wins always. */
const STARTS: readonly (readonly number[])[] = [[], [LOW_SHELF], [HIGH_SHELF], [LOW_SHELF, HIGH_SHELF]];

function forced(space: SearchSpace, types: readonly number[]): Refined {
  let start = refine(space.objective, NO_BANDS, space.bounds, QUICK);
  for (const type of types) {
    if (start.bands.types.length >= space.maxBands) break;
    const shelf = propose(space, start.bands, 8).find((candidate) => candidate.type === type);
    if (shelf) start = refine(space.objective, insert(start.bands, shelf), space.bounds, THOROUGH);
  }
  return start;
}

/** Adds bands until the bank is full or none helps; of the few best candidates each is tried. */
export function grow(space: SearchSpace, start: Refined): Refined {
  let current = start;
  while (current.bands.types.length < space.maxBands) {
    const tries = propose(space, current.bands, 5).map((candidate) =>
      refine(space.objective, insert(current.bands, candidate), space.bounds, QUICK),
    );
    const best = tries.sort(byValue)[0];
    if (!best || best.value >= current.value) break;
    current = refine(space.objective, best.bands, space.bounds, THOROUGH);
  }
  return current;
}

function improve(space: SearchSpace, start: Refined, hops: number, random: () => number): Refined {
  let current = start;
  let best = start;
  for (let hop = 0; hop < hops; hop++) {
    if (best.value < 1e-7) break;
    const tried = reinsert(space, current, random);
    if (tried.value < current.value * DRIFT) current = tried;
    if (tried.value < best.value) best = tried;
  }
  return best;
}

function reinsert(space: SearchSpace, current: Refined, random: () => number): Refined {
  let bands = current.bands;
  const count = bands.types.length > 2 && random() < 0.4 ? 2 : 1;
  for (const index of chooseBands(bands, count, random)) bands = withoutBand(bands, index);
  for (let missing = space.maxBands - bands.types.length; missing > 0; missing--) {
    const candidate = pick(propose(space, bands, 4), random);
    if (!candidate) break;
    bands = insert(bands, candidate);
    if (missing > 1) bands = refine(space.objective, bands, space.bounds, QUICK).bands;
  }
  return refine(space.objective, bands, space.bounds, {
    ...THOROUGH,
    hopelessAbove: current.value * HOPELESS,
  });
}

/** One or two bands, descending so that they can be taken out in turn; of two, half the time neighbours. */
function chooseBands(bands: Bands, count: number, random: () => number): number[] {
  const n = bands.types.length;
  if (n === 0) return [];
  const order = Array.from({ length: n }, (_, i) => i).sort(
    (a, b) => bands.values[3 * a]! - bands.values[3 * b]!,
  );
  const first = Math.floor(random() * n);
  if (count < 2) return [order[first]!];
  const gap = random() < 0.5 ? 1 : 1 + Math.floor(random() * (n - 1));
  const second = (first + gap) % n;
  return [order[first]!, order[second]!].sort((a, b) => b - a);
}

function propose(space: SearchSpace, bands: Bands, count: number): Candidate[] {
  const { objective, dictionary, bounds } = space;
  objectiveValue(objective, bands);
  return candidates(
    dictionary,
    objective.grid,
    bounds,
    objective.residual,
    objective.eqDb,
    bands.types,
    count,
  );
}

/** The best candidate most often, a lesser one now and then. */
function pick(list: readonly Candidate[], random: () => number): Candidate | undefined {
  for (const candidate of list) if (random() < 0.55) return candidate;
  return list[0];
}

function insert(bands: Bands, { type, lnF, gainDb, lnQ }: Candidate): Bands {
  return withBand(bands, type, lnF, gainDb, lnQ);
}

