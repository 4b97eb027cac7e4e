import { PEAKING } from '../../fit/bank/bands.js';
import type { Bounds } from '../../fit/bank/bounds.js';
import type { Atom } from '../../fit/search/exchange/atoms.js';
import { atomsAt } from '../../fit/search/exchange/atomsAt.js';

const PEAKING_QS = [0.5, 0.8, 1.3, 2, 3.2, 5, 8];
const SHELF_QS = [0.5, 0.8, 1.4, 2.8];

/** Bands of the given types at each of some frequencies, as far as the bounds allow. */
export function frequencyAtoms(types: readonly number[], lnF: Float64Array, bounds: Bounds): Atom[] {
  return types.flatMap((type) =>
    atomsAt(type, Array.from(lnF), type === PEAKING ? PEAKING_QS : SHELF_QS, bounds),
  );
}
