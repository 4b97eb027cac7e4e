import { type Bands, byFrequency, isSame, pickBands } from './bands.js';
import { bankValues } from './bankKernel.js';
import type { Objective } from './objective.js';
import { type Refined, refine } from './refine.js';
import { byValue, HOPELESS, isAllowed, NEVER_HOPELESS, type SearchSpace, THOROUGH } from './searchSpace.js';

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
 * The best of the banks that come of putting neighbouring bands of one bank in place of as many of another. Sums of
 * bands up to every place are at hand, so that a look costs a pass over the grid; only the few most promising are
 * refined, the others wait. About one in ten of those betters the best of all banks.
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
    results.push(
      refine(space.objective, bands, space.bounds, {
        ...THOROUGH,
        hopelessAbove: splice.base.value * HOPELESS + NEVER_HOPELESS,
        patience: 3,
      }),
    );
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

function bestOfPair(objective: Objective, base: Refined, donor: Refined): Splice[] {
  const n = base.bands.types.length;
  const own = sumsFromBelow(objective, base);
  const others = sumsFromBelow(objective, donor);
  const dearest = Math.min(base.value, donor.value) * TOO_DEAR + 2 * NEVER_HOPELESS;
  let best: Splice[] = [];
  for (let from = 0; from < n; from++) {
    for (let to = from + 1; to <= n; to++) {
      if (to - from === n) continue;
      for (let shift = -1; shift <= 1; shift++) {
        if (shift !== 0 && (from === 0 || to === n)) continue;
        const value = errorOf(
          objective,
          own[n]!,
          own[from]!,
          own[to]!,
          others[from + shift]!,
          others[to + shift]!,
        );
        if (value >= (best[BEST_OF_A_PAIR - 1]?.value ?? dearest)) continue;
        best = [...best, { base, donor, from, to, shift, value }]
          .sort((a, b) => a.value - b.value)
          .slice(0, BEST_OF_A_PAIR);
      }
    }
  }
  return best;
}

/** Squared error under `whole` with the piece from `a` to `b` replaced by that from `c` to `d`. */
function errorOf(
  { grid, options }: Objective,
  whole: Float64Array,
  a: Float64Array,
  b: Float64Array,
  c: Float64Array,
  d: Float64Array,
): number {
  const { weight, deviationDb, errorPoints } = grid;
  const level = options.levelDb ?? 0;
  let sum = 0;
  let squares = 0;
  for (let p = 0; p < errorPoints; p++) {
    const r = deviationDb[p]! - level + whole[p]! - b[p]! + a[p]! + d[p]! - c[p]!;
    const wr = weight[p]! * r;
    sum += wr;
    squares += wr * r;
  }
  return options.levelDb === undefined ? squares - sum * sum : squares;
}

const knownSums = new WeakMap<Refined, readonly Float64Array[]>();

/** Sum in dB of the lowest 0, 1, … n bands; kept as long as the bank. */
function sumsFromBelow({ grid }: Objective, bank: Refined): readonly Float64Array[] {
  const known = knownSums.get(bank);
  if (known) return known;
  const warped = grid.warped.subarray(0, grid.errorPoints);
  let sum = new Float64Array(warped.length);
  const sums = [sum];
  for (const i of byFrequency(bank.bands)) {
    const one = pickBands(bank.bands, [i]);
    const next = new Float64Array(sum.length);
    bankValues(one.types, one.values, warped, grid.sampleRateHz, next);
    for (let p = 0; p < next.length; p++) next[p]! += sum[p]!;
    sums.push(next);
    sum = next;
  }
  knownSums.set(bank, sums);
  return sums;
}

function join({ base, donor, from, to, shift }: Splice): Bands {
  const places = byFrequency(base.bands);
  const inDonor = byFrequency(donor.bands).slice(from + shift, to + shift);
  const parts = [
    pickBands(base.bands, places.slice(0, from)),
    pickBands(donor.bands, inDonor),
    pickBands(base.bands, places.slice(to)),
  ];
  return {
    types: Uint8Array.from(parts.flatMap(({ types }) => [...types])),
    values: Float64Array.from(parts.flatMap(({ values }) => [...values])),
  };
}
