import { log } from '../../../elementary/logarithm.js';
import { PEAKING } from '../../bank/bands.js';
import { type Bounds, endsOf } from '../../bank/bounds.js';
import type { FitGrid } from '../../problem/fitGrid.js';
import type { Atom } from './atoms.js';
import { atomsAt } from './atomsAt.js';

const PEAKS = { perOctave: 6, qs: [0.5, 0.9, 1.6, 2.8, 5, 9] };
const SHELVES = { perOctave: 4, qs: [0.5, 0.8, 1.5, 3, 6] };
/** Bands of the given types all over the range, as far as the bounds allow. */
export function atomDictionary(types: readonly number[], grid: FitGrid, bounds: Bounds): Atom[] {
  const [first, last] = [grid.frequencyHz[0]!, grid.frequencyHz[grid.errorPoints - 1]!];
  return types.flatMap((type) => {
    const { perOctave, qs } = type === PEAKING ? PEAKS : SHELVES;
    const { lower, upper } = endsOf(bounds, type);
    const from = Math.max(lower[0], log(first));
    const to = Math.max(from, Math.min(upper[0], log(last)));
    const count = Math.max(1, Math.round(((to - from) / Math.LN2) * perOctave));
    const lnFs = Array.from({ length: count }, (_, i) => from + ((i + 0.5) * (to - from)) / count);
    return atomsAt(type, lnFs, qs, bounds);
  });
}
