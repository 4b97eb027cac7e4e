import { isSame } from '../bank/bands.js';
import { squaredError } from '../objective/objective.js';
import { objectiveValue } from '../refinement/objectiveValue.js';
import type { Refined } from '../refinement/refine.js';
import type { SearchSpace } from './searchSpace.js';

/** What a limit that gives way costs in the finish, over what it costs in the search. */
const FIRMER = 13;
const KEPT = 2;

/** The banks that would stand lowest if limits counted in the search as they do in the finish, the best first. */
export type LeastLeaning = readonly { readonly bank: Refined; readonly value: number }[];

/**
 * The search's limits are soft, and all the banks that a long one ends with may lean on them in the same way: 2.61 dB were left
 * of them where 2.42 had been met on the way.
 */
export function withLeastLeaning(
  { objective }: SearchSpace,
  kept: LeastLeaning,
  bank: Refined,
): LeastLeaning {
  const last = kept[KEPT - 1];
  if (last && bank.value >= last.value) return kept;
  objectiveValue(objective, bank.bands);
  const error = squaredError(objective);
  const value = error + FIRMER * (bank.value - error);
  if (last && value >= last.value) return kept;
  if (kept.some((other) => isSame(other.bank.bands, bank.bands))) return kept;
  return [...kept, { bank, value }].sort((a, b) => a.value - b.value).slice(0, KEPT);
}
