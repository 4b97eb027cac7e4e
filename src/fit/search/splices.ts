import { type Bands, byFrequency, isSame, joined, pickBands } from '../bank/bands.js';
import type { Objective } from '../objective/objective.js';
import type { Refined } from '../refinement/refine.js';
import { type BandSums, bandSums, productsBetween } from './bandSums.js';
import { byValue, isAllowed, NEVER_HOPELESS, type SearchSpace, tryBank } from './searchSpace.js';

/** A bank with some of its neighbouring bands replaced by as many of another one. */
export interface Splice {
  readonly base: Refined;
  readonly donor: Refined;
  /** The bands from `from` up to `to`, counted from the lowest, give way to those `shift` places further in the donor. */
  readonly from: number;
  readonly to: number;
  readonly shift: number;
  /** Squared error, dB², before anything is refined. */
  readonly value: number;
}

/** Splices that wait for being tried, and the pairs of banks that were looked at. */
export interface Splicing {
  waiting: readonly Splice[];
  readonly seen: WeakMap<Refined, WeakSet<Refined>>;
}

export const newSplicing = (): Splicing => ({ waiting: [], seen: new WeakMap() });

/** Splices that stand this far above the best bank, as they are, are not tried. */
const TOO_DEAR = 2;
const MOST_TRIED = 3;
const MOST_WAITING = 40;
const BEST_OF_A_PAIR = 2;

/**
 * The best of the banks that come of putting neighbouring bands of one bank in place of as many of another. Products of the
 * sums of bands up to every place are at hand, so that a look costs next to nothing; only the few most promising are refined,
 * the others wait. About one in ten of those betters the best of all banks.
 *
 * @param bases the best banks, the best first
 * @param donors what pieces are taken from: also banks that are worse as a whole
 */
export function bestSplice(
  space: SearchSpace,
  bases: readonly Refined[],
  donors: readonly Refined[],
  splicing: Splicing,
): Refined | undefined {
  const best = bases[0];
  if (!best) return undefined;
  const waiting = [...splicing.waiting, ...newSplices(space, bases, donors, splicing)]
    .sort((a, b) => a.value - b.value)
    .slice(0, MOST_WAITING);
  const results: Refined[] = [];
  while (results.length < MOST_TRIED) {
    const splice = waiting.shift();
    if (!splice || splice.value > best.value * TOO_DEAR + 2 * NEVER_HOPELESS) break;
    const bands = join(splice);
    const isNew = ![...bases, ...results, splice.donor].some((other) => isSame(bands, other.bands));
    if (!isNew || !isAllowed(space, bands)) continue;
    results.push(tryBank(space, bands, splice.base.value));
  }
  splicing.waiting = waiting;
  return results.sort(byValue)[0];
}

function newSplices(
  { objective }: SearchSpace,
  bases: readonly Refined[],
  donors: readonly Refined[],
  { seen }: Splicing,
): Splice[] {
  const splices: Splice[] = [];
  for (const base of bases) {
    const seenHere = seen.get(base) ?? new WeakSet();
    seen.set(base, seenHere);
    for (const donor of donors) {
      if (base === donor || seenHere.has(donor) || donor.bands.types.length !== base.bands.types.length)
        continue;
      seenHere.add(donor);
      splices.push(...bestOfPair(objective, base, donor));
    }
  }
  return splices;
}

/**
 * With a the piece that goes and b the one that comes in its place, both of them differences of two sums from below, there stays
 * |left − a + b|²: of all pieces this follows from the products of the sums, with no pass over the grid for each.
 */
function bestOfPair(objective: Objective, base: Refined, donor: Refined): Splice[] {
  const n = base.bands.types.length;
  const own = bandSums(objective, base);
  const others = bandSums(objective, donor);
  const width = n + 1;
  const between = productsBetween(own.rows, others.rows, width, width, own.points);
  const withLeft = productsBetween(others.rows, own.left, width, 1, own.points);
  const square = ({ products }: BandSums, i: number, j: number) =>
    products[i * width + i]! - 2 * products[i * width + j]! + products[j * width + j]!;
  const dearest = Math.min(base.value, donor.value) * TOO_DEAR + 2 * NEVER_HOPELESS;
  let best: Splice[] = [];
  for (let from = 0; from < n; from++) {
    for (let to = from + 1; to <= n; to++) {
      if (to - from === n) continue;
      const without = own.leftSquare + square(own, to, from) - 2 * (own.withLeft[to]! - own.withLeft[from]!);
      for (let shift = -1; shift <= 1; shift++) {
        if (shift !== 0 && (from === 0 || to === n)) continue;
        const [low, high] = [from + shift, to + shift];
        const value =
          without +
          square(others, high, low) +
          2 * (withLeft[high]! - withLeft[low]!) -
          2 * (between[to * width + high]! - between[to * width + low]!) +
          2 * (between[from * width + high]! - between[from * width + low]!);
        if (value >= (best[BEST_OF_A_PAIR - 1]?.value ?? dearest)) continue;
        best = [...best, { base, donor, from, to, shift, value }]
          .sort((x, y) => x.value - y.value)
          .slice(0, BEST_OF_A_PAIR);
      }
    }
  }
  return best;
}

function join({ base, donor, from, to, shift }: Splice): Bands {
  const places = byFrequency(base.bands);
  const inDonor = byFrequency(donor.bands).slice(from + shift, to + shift);
  return joined(
    pickBands(base.bands, places.slice(0, from)),
    pickBands(donor.bands, inDonor),
    pickBands(base.bands, places.slice(to)),
  );
}
