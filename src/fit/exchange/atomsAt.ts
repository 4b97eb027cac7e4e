import { log } from '../../elementary/logarithm.js';
import { type Bounds, lowerBound, upperBound } from '../bounds.js';
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
  const [least, most] = [lowerBound(bounds, types, 2), upperBound(bounds, types, 2)];
  const lnQs = new Set(qs.map((q) => Math.min(Math.max(log(q), least), most)));
  return lnFs.flatMap((lnF) => Array.from(lnQs, (lnQ) => ({ type, lnF, gainDb: REFERENCE_GAIN_DB, lnQ })));
}
