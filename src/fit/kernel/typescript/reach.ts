import { type Bands, LOW_SHELF, PEAKING } from '../../bank/bands.js';
import { bandConstants, type Reach } from '../../bank/bankKernel.js';

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
    let from = 0;
    let to = reach.ascending;
    const { inverseT0, A, q } = bandConstants(values, i, sampleRateHz);
    const wider = Math.max(A, 1 / A);
    if (types[i] === PEAKING) {
      // |x - 1/x| beyond which (wider of the two widths)² x² / (1 - x²)² lies below that share.
      const span = wider / (q * Math.sqrt(NEXT_TO_NOTHING));
      const x = span / 2 + Math.sqrt((span * span) / 4 + 1);
      from = firstAbove(warped, reach.ascending, 1 / (inverseT0 * x * x));
      to = firstAbove(warped, reach.ascending, (x * x) / inverseT0);
    } else {
      // On the far side all derivatives fall like 1/u.
      const u = (wider * (1 + 1 / (q * q))) / NEXT_TO_NOTHING;
      if (types[i] === LOW_SHELF) to = firstAbove(warped, reach.ascending, u / inverseT0);
      else from = firstAbove(warped, reach.ascending, 1 / (u * inverseT0));
    }
    // Whole pairs of points.
    reach.from[i] = from & ~1;
    reach.to[i] = (to + 1) & ~1;
  }
}

/** All ascending points for every band. */
export function reachAll(reach: Reach): void {
  reach.from.fill(0);
  reach.to.fill(reach.ascending);
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
