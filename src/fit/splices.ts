import { type Bands, byFrequency, isSame, pickBands } from './bands.js';
import { bankValues } from './bankKernel.js';
import { type Objective, valueOfSum } from './objective.js';
import { type Refined, refine } from './refine.js';
import { refineLocally } from './refineLocally.js';
import {
  byValue,
  HOPELESS,
  isAllowed,
  LOCAL,
  NEVER_HOPELESS,
  type SearchSpace,
  THOROUGH,
} from './searchSpace.js';

/** The lower bands of one bank with the upper ones of another. */
interface Splice {
  readonly below: Refined;
  readonly above: Refined;
  /** How many bands come from below. */
  readonly count: number;
  readonly value: number;
}

/** Splices that stand this far above the better of the two banks, as they are, are not tried. */
const TOO_DEAR = 2;
const MOST_TRIED = 3;

/**
 * The best of the banks that two others of the same size give when one is cut somewhere and goes on as the other.
 * Sums of bands up to every cut are at hand, so that a look at a splice costs a pass over the grid; only the few best
 * are refined, the bands beside the cut first. About one in four of those betters both banks that it came from.
 */
export function bestSplice(space: SearchSpace, banks: readonly Refined[]): Refined | undefined {
  const results: Refined[] = [];
  for (const splice of listSplices(space, banks)) {
    if (results.length >= MOST_TRIED) break;
    const bands = join(splice);
    const isNew = ![splice.below, splice.above].some((parent) => isSame(bands, parent.bands));
    if (isNew && isAllowed(space, bands)) results.push(settle(space, splice, bands));
  }
  return results.sort(byValue)[0];
}

/** All splices worth a try, the best as they are first. */
function listSplices({ objective }: SearchSpace, banks: readonly Refined[]): Splice[] {
  const sums = banks.map((bank) => sumsFromBelow(objective, bank.bands));
  const { backgroundDb } = objective;
  const splices: Splice[] = [];
  banks.forEach((below, b) => {
    banks.forEach((above, a) => {
      const n = above.bands.types.length;
      if (a === b || below.bands.types.length !== n) return;
      const dearest = Math.min(below.value, above.value) * TOO_DEAR + 2 * NEVER_HOPELESS;
      for (let count = 1; count < n; count++) {
        const [low, high, all] = [sums[b]![count]!, sums[a]![count]!, sums[a]![n]!];
        for (let p = 0; p < backgroundDb.length; p++) backgroundDb[p] = low[p]! + all[p]! - high[p]!;
        const value = valueOfSum(objective);
        if (value < dearest) splices.push({ below, above, count, value });
      }
    });
  });
  backgroundDb.fill(0);
  return splices.sort((x, y) => x.value - y.value);
}

/** Sum in dB of the lowest 0, 1, … n bands. */
function sumsFromBelow({ grid }: Objective, bands: Bands): Float64Array[] {
  let sum = new Float64Array(grid.warped.length);
  const sums = [sum];
  for (const i of byFrequency(bands)) {
    const one = pickBands(bands, [i]);
    const next = new Float64Array(sum.length);
    bankValues(one.types, one.values, grid.warped, grid.sampleRateHz, next);
    for (let p = 0; p < next.length; p++) next[p]! += sum[p]!;
    sums.push(next);
    sum = next;
  }
  return sums;
}

/** The bands of a splice, ascending in frequency up to the cut and from it on. */
function join({ below, above, count }: Splice): Bands {
  const low = pickBands(below.bands, byFrequency(below.bands).slice(0, count));
  const high = pickBands(above.bands, byFrequency(above.bands).slice(count));
  return {
    types: Uint8Array.from([...low.types, ...high.types]),
    values: Float64Array.from([...low.values, ...high.values]),
  };
}

function settle({ objective, bounds }: SearchSpace, splice: Splice, bands: Bands): Refined {
  const n = bands.types.length;
  const besideCut = [-2, -1, 0, 1].map((k) => splice.count + k).filter((i) => i >= 0 && i < n);
  const settled = refineLocally(objective, bands, besideCut, bounds, LOCAL);
  const better = Math.min(splice.below.value, splice.above.value);
  if (settled.value > better * HOPELESS * 1.3 + 2 * NEVER_HOPELESS) return settled;
  return refine(objective, settled.bands, bounds, {
    ...THOROUGH,
    hopelessAbove: better * HOPELESS + NEVER_HOPELESS,
    patience: 3,
  });
}
