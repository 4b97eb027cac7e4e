import type { Bands } from '../bank/bands.js';
import { type Opposition, opposedDb } from './opposition.js';

/** Of each number of a bank, what its square costs on top of an objective. */
export type Charge = Float64Array;

/** A smaller gain is charged as if it were this one. */
const LEAST_GAIN_DB = 0.5;

/**
 * A charge on the gains of opposed bands that leans where the bank stands as `weight` times their opposition would, were
 * likenesses to stay as they are.
 *
 * @param weight what a dB of opposition costs, dB²
 */
export function opposedCharge({ pairs }: Opposition, { values }: Bands, weight: number): Charge {
  const charge = new Float64Array(values.length);
  for (const pair of pairs) {
    for (const i of pair.bands) {
      const gainDb = Math.max(LEAST_GAIN_DB, Math.abs(values[3 * i + 1]!));
      charge[3 * i + 1]! += (weight * opposedDb(pair)) / (2 * gainDb * gainDb);
    }
  }
  return charge;
}

/** What the numbers of a bank are charged; nothing where there is no charge. */
export function charged(charge: Charge | undefined, values: Float64Array): number {
  let sum = 0;
  if (charge) for (let j = 0; j < values.length; j++) sum += charge[j]! * values[j]! * values[j]!;
  return sum;
}
