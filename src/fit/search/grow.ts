import { NO_BANDS, PEAKING } from '../bank/bands.js';
import { type Refined, refine } from '../refinement/refine.js';
import { refineLocally, withNeighbours } from '../refinement/refineLocally.js';
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

/** The next best way is taken now and then, so that another bank comes of it. */
export interface ByChance {
  readonly preferBetter: number;
  readonly random: () => number;
}

/** Candidates that are tried at each step, among peaking bands alone and among all kinds. */
const PEAKS_TRIED = 3;
const KINDS_TRIED = 5;
/** Where chance has its say, it also leaves out some of a longer list. */
const CANDIDATES_BY_CHANCE = 12;
const SHARE_TRIED = 0.5;

/** A bank of shelves of the given types, each where it helps most. */
export function withShelves(space: SearchSpace, types: readonly number[], chance?: ByChance): Refined {
  let bank = refine(space.objective, NO_BANDS, space.bounds, QUICK);
  for (const type of types) {
    if (bank.bands.types.length >= space.maxBands) break;
    const shelf = choose(propose(space, bank.bands, 3, type), chance);
    if (shelf && isAllowed(space, insert(bank.bands, shelf)))
      bank = refine(space.objective, insert(bank.bands, shelf), space.bounds, THOROUGH);
  }
  return bank;
}

/** Adds bands until the bank is full, none helps or `isEnough`; of the few best candidates each is tried. */
export function grow(
  space: SearchSpace,
  start: Refined,
  isEnough: (bank: Refined) => boolean,
  chance?: ByChance,
): Refined {
  const tried = space.types.some((type) => type !== PEAKING) ? KINDS_TRIED : PEAKS_TRIED;
  let current = start;
  while (current.bands.types.length < space.maxBands && !isEnough(current)) {
    const candidates = propose(space, current.bands, chance ? CANDIDATES_BY_CHANCE : 6);
    const settled = (chance ? candidates.filter(() => chance.random() < SHARE_TRIED) : candidates)
      .slice(0, tried)
      .map((candidate) => insert(current.bands, candidate))
      .filter((bands) => isAllowed(space, bands))
      .map((bands) => {
        const moving = withNeighbours(bands, bands.types.length - 1, 1);
        return refineLocally(space.objective, bands, moving, space.bounds, LOCAL);
      })
      .filter((bank) => bank.value < current.value)
      .sort(byValue);
    const best = choose(settled, chance);
    if (!best) break;
    const full = best.bands.types.length === space.maxBands;
    current = refine(space.objective, best.bands, space.bounds, full ? THOROUGH : SETTLE);
  }
  return current;
}

function choose<T>(list: readonly T[], chance: ByChance | undefined): T | undefined {
  return list.find(() => !chance || chance.random() < chance.preferBetter) ?? list[0];
}
