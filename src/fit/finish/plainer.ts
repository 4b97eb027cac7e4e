import { withoutBand } from '../bank/bands.js';
import { opposedCharge } from '../objective/gainCharge.js';
import { opposedDb } from '../objective/opposition.js';
import { objectiveValue } from '../refinement/objectiveValue.js';
import { type Refined, refine } from '../refinement/refine.js';
import { insert, isAllowed, propose, type SearchSpace } from '../search/searchSpace.js';
import { asFlanks } from './flanks.js';
import {
  affordable,
  inOrder,
  type PlainScales,
  paid,
  plainest,
  plainScales,
  valueAt,
  type WeighedBank,
  weighBank,
  weightOfOpposition,
} from './plainScales.js';

/** The first of these charges is half of what opposition is worth; beyond, it leads where a bank would not go by itself. */
const CHARGES = [0.5, 1, 2, 4];
const CHARGES_OF_REPLACED = [1];
const CHARGES_AT_LAST = [0.5, 1];
const UNDER_CHARGE = { maxIterations: 6, tolerance: 1e-4 };
const REPLACED = { maxIterations: 12, tolerance: 1e-3, patience: 4 };
/** Banks that are charged, bands that are replaced, what they are replaced by, and banks that are given back. */
const STARTS = 3;
const PAIRS = 2;
const PROPOSALS = 2;
const GIVEN_BACK = 3;
/** Pairs that cancel less are nothing to mend. */
const WORTH_MENDING_DB = 0.3;
/** A bank this many times the allowance above the best may come back within it, and one that stands there early on. */
const MAY_COME_BACK = 2;
const HOPELESS = 6;

/**
 * Banks that leave hardly more than the best and whose bands work less against each other, the best first: those that the
 * search has found anyway, the same with a growing charge on opposed gains, and with one of an opposed pair replaced.
 *
 * @param settled banks at rest, the best first
 * @param unseen squared error, dB², that the grid does not show
 */
export function plainerBanks(space: SearchSpace, settled: readonly Refined[], unseen: number): WeighedBank[] {
  const { grid } = space.objective;
  const scales = plainScales(settled[0]!.value, { unseen });
  const near = settled
    .filter(({ value }) => paid(scales, value) <= MAY_COME_BACK)
    .map(({ bands, value }) => weighBank(grid, bands, value));
  const charged = inOrder(scales, near)
    .slice(0, STARTS)
    .map((start) => underCharge(space, scales, start, CHARGES));
  const found = [...charged, ...replacements(space, scales, plainest(scales, charged))];
  return affordable(scales, found).slice(0, GIVEN_BACK);
}

/**
 * The plainest of them and of the best bank itself on another grid; undefined where that is the best bank.
 *
 * @param space with an objective on that grid
 */
export function plainestOf(
  space: SearchSpace,
  best: Refined,
  banks: readonly WeighedBank[],
): WeighedBank | undefined {
  const { objective, bounds } = space;
  const scales = plainScales(best.value);
  const itself = weighBank(objective.grid, best.bands, best.value);
  const moved = banks.map(({ bands, charge }) => {
    const there = refine(objective, bands, bounds, { ...UNDER_CHARGE, ...(charge && { charge }) });
    return weighBank(objective.grid, there.bands, objectiveValue(objective, there.bands), charge);
  });
  const ended = underCharge(space, scales, plainest(scales, [itself, ...moved]), CHARGES_AT_LAST);
  return ended === itself ? undefined : ended;
}

/** The plainest on the way of a bank under one charge after the other. */
function underCharge(
  { objective, bounds }: SearchSpace,
  scales: PlainScales,
  start: WeighedBank,
  charges: readonly number[],
): WeighedBank {
  const way = [start];
  for (const part of charges) {
    const { bands, against } = way.at(-1)!;
    const charge = opposedCharge(against, bands, part * weightOfOpposition(scales));
    const next = refine(objective, bands, bounds, { ...UNDER_CHARGE, charge });
    const value = objectiveValue(objective, next.bands);
    way.push(weighBank(objective.grid, next.bands, value, charge));
    if (paid(scales, value) > 1) break;
  }
  return plainest(scales, way);
}

/** The bank with one band of its most opposed pairs put elsewhere. */
function replacements(space: SearchSpace, scales: PlainScales, from: WeighedBank): WeighedBank[] {
  const { objective, bounds } = space;
  const pairs = from.against.pairs
    .filter((pair) => opposedDb(pair) > WORTH_MENDING_DB)
    .sort((a, b) => opposedDb(b) - opposedDb(a))
    .slice(0, PAIRS);
  const instead = pairs.flatMap(({ bands: pair }) => [
    ...pair.flatMap((index) => {
      const rest = withoutBand(from.bands, index);
      return propose(space, rest, PROPOSALS).map((candidate) => insert(rest, candidate));
    }),
    ...asFlanks(space, from.bands, pair),
  ]);
  return instead
    .filter((bands) => isAllowed(space, bands))
    .flatMap((bands) => {
      const hopelessAbove = valueAt(scales, HOPELESS);
      const tried = refine(objective, bands, bounds, { ...REPLACED, hopelessAbove });
      if (paid(scales, tried.value) > MAY_COME_BACK) return [];
      const weighed = weighBank(objective.grid, tried.bands, tried.value);
      return [underCharge(space, scales, weighed, CHARGES_OF_REPLACED)];
    });
}
