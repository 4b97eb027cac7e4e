import { type Bands, LOW_SHELF, PEAKING } from './bands.js';
import { bandConstants, type Reach } from './bankKernel.js';

/** What has fallen to about this share of its greatest value counts for nothing. */
const NEXT_TO_NOTHING = 0.01;

/**
 * The points that each band reaches: of a peak those around it, of a shelf those up to where it has died out.
 *
 * @param warped squared prewarped frequencies, of which the first `reach.ascending` ascend
 */
export function findReach(
  { types, values }: Bands,
  warped: Float64Array,
  sampleRateHz: number,
  reach: Reach,
): void {
  for (let i = 0; i < types.length; i++) {
    reach.from[i] = 0;
    reach.to[i] = reach.ascending;
    const { inverseT0, A, q } = bandConstants(values, i, sampleRateHz);
    if (types[i] !== PEAKING) {
      // On the far side all derivatives fall like 1/u.
      const u = (Math.max(A, 1 / A) * (1 + 1 / (q * q))) / NEXT_TO_NOTHING;
      if (types[i] === LOW_SHELF) reach.to[i] = firstAbove(warped, reach.ascending, u / inverseT0);
      else reach.from[i] = firstAbove(warped, reach.ascending, 1 / (u * inverseT0));
      continue;
    }
    // |x - 1/x| beyond which (wider of the two widths)² x² / (1 - x²)² lies below that share.
    const span = Math.max(A, 1 / A) / (q * Math.sqrt(NEXT_TO_NOTHING));
    const x = span / 2 + Math.sqrt((span * span) / 4 + 1);
    reach.from[i] = firstAbove(warped, reach.ascending, 1 / (inverseT0 * x * x));
    reach.to[i] = firstAbove(warped, reach.ascending, (x * x) / inverseT0);
  }
}

/** The first `count` points for every band. */
export function reachAll(reach: Reach, count: number): void {
  reach.ascending = count;
  reach.from.fill(0);
  reach.to.fill(count);
}

function firstAbove(ascending: Float64Array, count: number, value: number): number {
  let low = 0;
  let high = count;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (ascending[middle]! < value) low = middle + 1;
    else high = middle;
  }
  return low;
}
