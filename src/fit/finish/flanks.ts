import { log } from '../../elementary/logarithm.js';
import { type Bands, PEAKING, pickBands, withBand } from '../bank/bands.js';
import { objectiveValue } from '../refinement/objectiveValue.js';
import type { SearchSpace } from '../search/searchSpace.js';

/** Of a peaking band as wide as two flanks lie apart. */
const Q_BY_OCTAVES = Math.SQRT2;
/** Flanks of less are none. */
const LEAST_DB = 0.3;
/** Two peaks side by side add up to more than either. */
const SHARE = 0.85;

/**
 * The bank with an opposed pair made by two peaks of one sign, where the pair has two flanks: a broad cut with a boost in
 * its middle is two cuts side by side.
 */
export function asFlanks(
  { objective, types }: SearchSpace,
  bands: Bands,
  pair: readonly [number, number],
): Bands[] {
  if (!types.includes(PEAKING)) return [];
  const { grid, eqDb } = objective;
  objectiveValue(objective, pickBands(bands, pair));
  const [a, b] = pair;
  const middle = (bands.values[3 * a]! + bands.values[3 * b]!) / 2;
  const others = Array.from(bands.types.keys()).filter((i) => !pair.includes(i));
  return [1, -1].flatMap((sign) => {
    const low = summit(grid.frequencyHz, eqDb, grid.errorPoints, sign, (lnF) => lnF < middle);
    const high = summit(grid.frequencyHz, eqDb, grid.errorPoints, sign, (lnF) => lnF >= middle);
    if (low.db < LEAST_DB || high.db < LEAST_DB || !(high.lnF > low.lnF)) return [];
    const lnQ = log(Q_BY_OCTAVES / ((high.lnF - low.lnF) / Math.LN2));
    return [
      [low, high].reduce(
        (bank, { lnF, db }) => withBand(bank, PEAKING, lnF, sign * SHARE * db, lnQ),
        pickBands(bands, others),
      ),
    ];
  });
}

function summit(
  frequencyHz: Float64Array,
  eqDb: Float64Array,
  points: number,
  sign: number,
  isThere: (lnF: number) => boolean,
) {
  let best = { lnF: 0, db: 0 };
  for (let p = 0; p < points; p++) {
    const lnF = log(frequencyHz[p]!);
    if (sign * eqDb[p]! > best.db && isThere(lnF)) best = { lnF, db: sign * eqDb[p]! };
  }
  return best;
}
