import { type Bands, withoutBand } from '../bank/bands.js';
import type { Refined } from '../refinement/refine.js';
import { nearest, refineLocally, withNeighbours } from '../refinement/refineLocally.js';
import {
  HOPELESS,
  insert,
  isAllowed,
  LOCAL,
  NEVER_HOPELESS,
  propose,
  type SearchSpace,
  tryBank,
} from './searchSpace.js';

/** One band in, one out: as it would stand if the two did not feel each other. */
interface Swap {
  /** The bank with one band more, settled among its neighbours. */
  readonly wider: Bands;
  /** Which band goes, and which stand next to it. */
  readonly out: number;
  readonly predicted: number;
}

/** Swaps from a bank, the most promising first, and how many of them were tried. */
interface SwapList {
  readonly swaps: readonly Swap[];
  tried: number;
}

const CANDIDATES = 6;
/** Swaps predicted to end this far above the present value are not tried. */
const TOO_DEAR = 1.4;
const MOST_TRIED = 8;

/** What was found out about a bank is kept as long as the bank. */
const lists = new WeakMap<Refined, SwapList>();

/** The next swap of the bank's list, carried out; nothing where the list is at its end. */
export function nextSwap(space: SearchSpace, current: Refined): Refined | undefined {
  const list = lists.get(current) ?? listSwaps(space, current);
  lists.set(current, list);
  const swap = list.swaps[list.tried++];
  if (!swap) return undefined;
  const lnF = swap.wider.values[3 * swap.out]!;
  const added = swap.wider.types.length - 1;
  const bands = withoutBand(swap.wider, swap.out);
  const place = added - (swap.out < added ? 1 : 0);
  const moving = new Set([...withNeighbours(bands, place, 1), ...nearest(bands, lnF, 2)]);
  const settled = refineLocally(space.objective, bands, [...moving], space.bounds, LOCAL);
  if (settled.value > current.value * HOPELESS * 1.3 + 2 * NEVER_HOPELESS) return settled;
  return tryBank(space, settled.bands, current.value);
}

function listSwaps(space: SearchSpace, { bands, value }: Refined): SwapList {
  const { objective, bounds } = space;
  const wider = propose(space, bands, CANDIDATES).map((candidate) => {
    const bank = insert(bands, candidate);
    const moving = withNeighbours(bank, bank.types.length - 1, 1);
    return refineLocally(objective, bank, moving, bounds, LOCAL);
  });
  const costs = Array.from(bands.types.keys()).map((out) => {
    const rest = withoutBand(bands, out);
    if (rest.types.length === 0) return Number.POSITIVE_INFINITY;
    return (
      refineLocally(objective, rest, nearest(rest, bands.values[3 * out]!, 2), bounds, LOCAL).value - value
    );
  });
  const swaps = wider
    .flatMap((bank) => costs.map((cost, out) => ({ wider: bank.bands, out, predicted: bank.value + cost })))
    .filter(({ predicted }) => predicted < value * TOO_DEAR + 4 * NEVER_HOPELESS)
    .filter((swap) => isAllowed(space, withoutBand(swap.wider, swap.out)))
    .sort((a, b) => a.predicted - b.predicted)
    .slice(0, MOST_TRIED);
  return { swaps, tried: 0 };
}
