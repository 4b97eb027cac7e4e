import { type Bands, byFrequency, pickBands } from '../bank/bands.js';
import { clampBands } from '../bank/bounds.js';
import { bandOfRoots, misfit, polesOf, type RootPair, zerosOf } from '../bank/roots.js';
import { beside } from '../refinement/beside.js';
import { objectiveValue } from '../refinement/objectiveValue.js';
import type { Refined } from '../refinement/refine.js';
import { nearest, refineLocally } from '../refinement/refineLocally.js';
import {
  HOPELESS_AT_ONCE,
  isAllowed,
  LOCAL,
  NEVER_HOPELESS,
  type SearchSpace,
  tryBank,
} from './searchSpace.js';

/** Two bands in place of two others of a bank, each with the zeros of one and the poles of the other of these. */
interface RootSwap {
  readonly pair: readonly [number, number];
  readonly inTheirPlace: Bands;
  /** The objective's value before anything is refined. */
  readonly predicted: number;
}

/** Root swaps of a bank, the most promising first, and how many of them were tried. */
interface RootSwapList {
  readonly swaps: readonly RootSwap[];
  tried: number;
}

/** Natural logarithm of the ratio of frequencies up to which two bands are looked at: two octaves. */
const FARTHEST = 2 * Math.LN2;
/** What may be left out of zeros and poles, in ln f and ln Q, of both bands together. */
const MOST_MISFIT = 1.2;
/** Root pairs nearer to each other than this make no difference. */
const NEAREST = 0.15;
/** Root swaps that stand this far above the present value, as they are, are not tried. */
const TOO_DEAR = 2;
const MOST_TRIED = 8;

/** What was found out about a bank is kept as long as the bank. */
const lists = new WeakMap<Refined, RootSwapList>();

/**
 * The next root swap of the bank's list, carried out; nothing where the list is at its end.
 *
 * A bank is a product of zeros over poles, and which zeros go with which poles is a matter of how it is written: two peaks
 * against each other at f₁ and f₂, of Qs in the right ratio, are two shelves against each other between them, and a peak
 * beside a shelf is a shelf beside a peak. Such ways of writing nearly the same EQ lie far apart for whoever moves
 * one band at a time, and lead on to different places.
 */
export function nextRootSwap(space: SearchSpace, current: Refined): Refined | undefined {
  const list = lists.get(current) ?? { swaps: rootSwaps(space, current), tried: 0 };
  lists.set(current, list);
  const swap = list.swaps[list.tried++];
  if (!swap) return undefined;
  const [i, j] = swap.pair;
  const between = (current.bands.values[3 * i]! + current.bands.values[3 * j]!) / 2;
  const bands = carriedOut(current.bands, swap);
  const moving = new Set([i, j, ...nearest(bands, between, 2)]);
  const settled = refineLocally(space.objective, bands, [...moving], space.bounds, LOCAL);
  if (settled.value > current.value * HOPELESS_AT_ONCE + 2 * NEVER_HOPELESS) return settled;
  return tryBank(space, settled.bands, current.value);
}

function rootSwaps(space: SearchSpace, { bands, value }: Refined): RootSwap[] {
  const dearest = value * TOO_DEAR + 4 * NEVER_HOPELESS;
  return nearPairs(bands)
    .flatMap((pair) => swapsOfPair(space, bands, pair))
    .filter((swap) => swap.predicted < dearest && isAllowed(space, carriedOut(bands, swap)))
    .sort((a, b) => a.predicted - b.predicted)
    .slice(0, MOST_TRIED);
}

function nearPairs(bands: Bands): (readonly [number, number])[] {
  const order = byFrequency(bands);
  return order.flatMap((i, k) =>
    order
      .slice(k + 1)
      .filter((j) => bands.values[3 * j]! - bands.values[3 * i]! < FARTHEST)
      .map((j) => [i, j] as const),
  );
}

/** Of both bands each type they may take, where zeros and poles are about such as that type has. */
function swapsOfPair(
  { objective, bounds, types }: SearchSpace,
  bands: Bands,
  pair: readonly [number, number],
): RootSwap[] {
  const [i, j] = pair;
  const [zerosI, zerosJ] = [zerosOf(bands, i), zerosOf(bands, j)];
  const [polesI, polesJ] = [polesOf(bands, i), polesOf(bands, j)];
  if (apart(zerosI, zerosJ) < NEAREST || apart(polesI, polesJ) < NEAREST) return [];
  const choices = types.flatMap((first) =>
    types
      .filter((second) => misfit(first, zerosI, polesJ) + misfit(second, zerosJ, polesI) < MOST_MISFIT)
      .map((second) => [first, second] as const),
  );
  if (choices.length === 0) return [];
  const others = Array.from(bands.types.keys()).filter((k) => k !== i && k !== j);
  return beside(objective, pickBands(bands, others), () =>
    choices.map(([first, second]) => {
      const values = [...bandOfRoots(first, zerosI, polesJ), ...bandOfRoots(second, zerosJ, polesI)];
      const two = { types: Uint8Array.of(first, second), values: Float64Array.from(values) };
      const held = clampBands(two, bounds);
      return { pair, inTheirPlace: held, predicted: objectiveValue(objective, held) };
    }),
  );
}

function apart(a: RootPair, b: RootPair): number {
  return Math.abs(a.lnF - b.lnF) + Math.abs(a.lnQ - b.lnQ);
}

function carriedOut(bands: Bands, { pair, inTheirPlace }: RootSwap): Bands {
  const types = bands.types.slice();
  const values = bands.values.slice();
  for (const [k, at] of pair.entries()) {
    types[at] = inTheirPlace.types[k]!;
    values.set(inTheirPlace.values.subarray(3 * k, 3 * k + 3), 3 * at);
  }
  return { types, values };
}
