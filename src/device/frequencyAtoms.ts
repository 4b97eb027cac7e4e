import { log } from '../elementary/logarithm.js';
import { PEAKING } from '../fit/bands.js';
import { type Bounds, upperBound } from '../fit/bounds.js';
import type { Atom } from '../fit/exchange/atoms.js';

const PEAKING_QS = [0.5, 0.8, 1.3, 2, 3.2, 5, 8];
const SHELF_QS = [0.5, 0.8, 1.4, 2.8];
/** Shapes are taken at this gain: what most bands come near to. */
const REFERENCE_GAIN_DB = 3;

/** Bands of the given types at each of some frequencies, as far as the bounds allow. */
export function frequencyAtoms(types: readonly number[], lnF: Float64Array, bounds: Bounds): Atom[] {
  return types.flatMap((type) => {
    const most = upperBound(bounds, Uint8Array.of(type), 2);
    const qs = type === PEAKING ? PEAKING_QS : SHELF_QS;
    const lnQs = new Set(qs.map((q) => Math.min(Math.max(log(q), bounds.lower[2]), most)));
    return Array.from(lnF).flatMap((x) =>
      Array.from(lnQs, (lnQ) => ({ type, lnF: x, gainDb: REFERENCE_GAIN_DB, lnQ })),
    );
  });
}
