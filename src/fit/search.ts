import { HIGH_SHELF, LOW_SHELF, NO_BANDS, PEAKING } from './bands.js';
import { drawMove } from './moves.js';
import { objectiveValue, squaredError } from './objective.js';
import { type Refined, refine } from './refine.js';
import { refineLocally, withNeighbours } from './refineLocally.js';
import {
  byValue,
  insert,
  isAllowed,
  LOCAL,
  propose,
  QUICK,
  SETTLE,
  type SearchSpace,
  THOROUGH,
} from './searchSpace.js';

export interface SearchEffort {
  /** Banks grown to begin with, each with other shelves; at most four. */
  readonly starts?: number;
  /** Moves tried for each band that may be used, over the chains together. */
  readonly hopsPerBand: number;
  /** Points per octave of the search's grid; the finish takes all there are. */
  readonly pointsPerOctave: number;
  /** Banks that are brought to the full grid at the end. */
  readonly finalists: number;
}

/** A chain may drift over ground this little worse: the optima are flat. */
const DRIFT = 1.003;
/** Squared error, dB², below which nothing is left to be won: a hundredth of a dB. */
const PERFECT = 1e-4;

/** Shelves to begin with; the wrong choice can double the error, and none of them wins always. */
const STARTS: readonly (readonly number[])[] = [[LOW_SHELF], [], [HIGH_SHELF], [LOW_SHELF, HIGH_SHELF]];

/** Share of all moves spent in each round, and how many chains are still in it: the best so far. */
const ROUNDS: readonly { readonly share: number; readonly chains: number }[] = [
  { share: 0.3, chains: 4 },
  { share: 0.3, chains: 3 },
  { share: 0.4, chains: 2 },
];

/** A chain of moves: where it stands, and the best bank on its way. */
interface Chain {
  current: Refined;
  best: Refined;
}

/**
 * Grows banks one band at a time where each helps most, refining all numbers after each, then improves the full
 * banks by chains of moves (see moves.ts), of which the better ones go on longer.
 *
 * @param onBetter told of every bank that is better than those before
 * @returns the best bank of each chain, the best first
 */
export function searchBanks(
  space: SearchSpace,
  effort: SearchEffort,
  random: () => number,
  onBetter: (bank: Refined) => void = () => {},
): Refined[] {
  let record = Number.POSITIVE_INFINITY;
  const tell = (bank: Refined) => {
    if (bank.value < record) {
      record = bank.value;
      onBetter(bank);
    }
  };
  const chains: Chain[] = [];
  for (const shelves of STARTS.slice(0, effort.starts ?? STARTS.length)) {
    const kinds = shelves.filter((type) => space.types.includes(type));
    if (kinds.length < shelves.length && chains.length > 0) continue;
    const grown = grow(space, withShelves(space, kinds));
    tell(grown);
    if (isPerfect(space, grown)) return [grown];
    chains.push({ current: grown, best: grown });
  }
  for (const { share, chains: count } of ROUNDS) {
    chains.sort((a, b) => byValue(a.best, b.best));
    const running = chains.slice(0, count);
    const hops = Math.ceil((effort.hopsPerBand * space.maxBands * share) / running.length);
    for (const chain of running) {
      for (let hop = 0; hop < hops; hop++) {
        advance(space, chain, random);
        if (chain.best.value < record) {
          tell(chain.best);
          if (isPerfect(space, chain.best)) return [chain.best];
        }
      }
    }
  }
  return chains.map(({ best }) => best).sort(byValue);
}

function withShelves(space: SearchSpace, types: readonly number[]): Refined {
  let bank = refine(space.objective, NO_BANDS, space.bounds, QUICK);
  for (const type of types) {
    if (bank.bands.types.length >= space.maxBands) break;
    const shelf = propose(space, bank.bands, 1, type)[0];
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
      .slice(0, 3)
      .map((candidate) => insert(current.bands, candidate))
      .filter((bands) => isAllowed(space, bands))
      .map((bands) => {
        const moving = withNeighbours(bands, bands.types.length - 1, 1);
        return refineLocally(space.objective, bands, moving, space.bounds, LOCAL);
      })
      .sort(byValue)[0];
    if (!best || best.value >= current.value) break;
    const full = best.bands.types.length === space.maxBands;
    current = refine(space.objective, best.bands, space.bounds, full ? THOROUGH : SETTLE);
  }
  return current;
}

function advance(space: SearchSpace, chain: Chain, random: () => number): void {
  const tried = drawMove(random)(space, chain.current, random);
  if (!isAllowed(space, tried.bands)) return;
  if (tried.value < chain.current.value * DRIFT) chain.current = tried;
  if (tried.value < chain.best.value) chain.best = tried;
}

function isPerfect({ objective }: SearchSpace, { bands, value }: Refined): boolean {
  if (value > 100 * PERFECT) return false;
  objectiveValue(objective, bands);
  return squaredError(objective) < PERFECT;
}
