import { log } from '../../../elementary/logarithm.js';
import { type Bounds, clampToBounds } from '../../bank/bounds.js';
import type { Atom } from './atoms.js';

/** Shapes are taken at this gain: what most bands come near to. */
const REFERENCE_GAIN_DB = 3;

/** Bands of a type at each of some frequencies with each of some Qs, as far as the bounds allow. */
export function atomsAt(
  type: number,
  lnFs: readonly number[],
  qs: readonly number[],
  bounds: Bounds,
): Atom[] {
  const types = Uint8Array.of(type);
  return lnFs.flatMap((lnF) => {
    const bands = { types, values: Float64Array.of(lnF, REFERENCE_GAIN_DB, 0) };
    const lnQs = new Set(qs.map((q) => clampToBounds(log(q), bounds, bands, 2)));
    return Array.from(lnQs, (lnQ) => ({ type, lnF, gainDb: REFERENCE_GAIN_DB, lnQ }));
  });
}
