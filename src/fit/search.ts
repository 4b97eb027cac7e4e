import { HIGH_SHELF, LOW_SHELF, NO_BANDS, PEAKING } from './bands.js';
import { drawMove } from './moves.js';
import { objectiveValue, squaredError } from './objective.js';
import { type Refined, refine } from './refine.js';
import { byValue, insert, isAllowed, propose, QUICK, type SearchSpace, THOROUGH } from './searchSpace.js';

export interface SearchEffort {
  /** Independent chains, each from a start of its own. */
  readonly chains: number;
  /** Moves tried per chain for banks of up to 8 bands; fewer for larger ones, whose moves cost more. */
  readonly hops: number;
}

/** A chain may drift over ground this little worse: the optima are flat. */
const DRIFT = 1.002;
/** Squared error, dB², below which nothing is left to be won: a hundredth of a dB. */
const PERFECT = 1e-4;

const FULL_HOPS_BANDS = 8;

/** Shelves to begin with; the wrong choice can double the error, and none of them wins always. */
const STARTS: readonly (readonly number[])[] = [[], [LOW_SHELF], [HIGH_SHELF], [LOW_SHELF, HIGH_SHELF]];

/**
 * Grows banks one band at a time where each helps most, refining all numbers after each, then improves the full
 * banks by chains of moves (see moves.ts).
 *
 * @returns the best bank of each chain, the best first
 */
export function searchBanks(space: SearchSpace, effort: SearchEffort, random: () => number): Refined[] {
  const starts = STARTS.filter((shelves) => shelves.every((type) => space.types.includes(type)))
    .map((shelves) => grow(space, withShelves(space, shelves)))
    .sort(byValue);
  if (isPerfect(space, starts[0]!)) return [starts[0]!];
  const hops = Math.round(effort.hops * Math.min(1, FULL_HOPS_BANDS / space.maxBands));
  const ends: Refined[] = [];
  for (let chain = 0; chain < effort.chains; chain++) {
    const end = improve(space, starts[chain % starts.length]!, hops, random);
    ends.push(end);
    if (isPerfect(space, end)) break;
  }
  return ends.sort(byValue);
}

function withShelves(space: SearchSpace, types: readonly number[]): Refined {
  let bank = refine(space.objective, NO_BANDS, space.bounds, QUICK);
  for (const type of types) {
    if (bank.bands.types.length >= space.maxBands) break;
    const shelf = propose(space, bank.bands, 8).find((candidate) => candidate.type === type);
    if (shelf && isAllowed(space, insert(bank.bands, shelf)))
      bank = refine(space.objective, insert(bank.bands, shelf), space.bounds, THOROUGH);
  }
  return bank;
}

/** Adds peaking bands until the bank is full or none helps; of the few best candidates each is tried. */
function grow(space: SearchSpace, start: Refined): Refined {
  let current = start;
  while (current.bands.types.length < space.maxBands && !isPerfect(space, current)) {
    const best = propose(space, current.bands, 6)
      .filter(({ type }) => type === PEAKING || !space.types.includes(PEAKING))
      .slice(0, 4)
      .map((candidate) => insert(current.bands, candidate))
      .filter((bands) => isAllowed(space, bands))
      .map((bands) => refine(space.objective, bands, space.bounds, QUICK))
      .sort(byValue)[0];
    if (!best || best.value >= current.value) break;
    current = refine(space.objective, best.bands, space.bounds, THOROUGH);
  }
  return current;
}

function improve(space: SearchSpace, start: Refined, hops: number, random: () => number): Refined {
  let current = start;
  let best = start;
  for (let hop = 0; hop < hops; hop++) {
    if (best === current && isPerfect(space, best)) break;
    const tried = drawMove(random)(space, current, random);
    if (!isAllowed(space, tried.bands)) continue;
    if (tried.value < current.value * DRIFT) current = tried;
    if (tried.value < best.value) best = tried;
  }
  return best;
}

function isPerfect({ objective }: SearchSpace, { bands }: Refined): boolean {
  objectiveValue(objective, bands);
  return squaredError(objective) < PERFECT;
}
