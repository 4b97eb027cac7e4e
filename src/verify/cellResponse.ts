import { pow2 } from '../elementary/exponential.js';
import { log2, log10 } from '../elementary/logarithm.js';
import { pow10 } from '../elementary/power.js';
import { bankResponseDb } from '../filter/bankResponseDb.js';
import type { Filter } from '../filter/filter.js';
import { filterResponseDb } from '../filter/filterResponseDb.js';

/** Where filters are looked at, as the measurement sees them. */
export interface Sampling {
  /** Evenly spaced on log frequency. */
  readonly frequencyHz: Float64Array;
  /** Whether each level is the mean power of a cell, half-way to half-way, and not that of a point. */
  readonly inCells: boolean;
}

/** Over a sixth of what lies between its points of half the gain a filter runs nearly straight. */
const PLACES_PER_WIDTH = 6;
const MOST_PLACES = 96;

/**
 * What filters add, in dB. Where a dense measurement has been averaged into cells, a filter narrower than a cell is
 * averaged as well: at its centre it would seem to have all its gain over the whole cell, beside it none.
 *
 * @param stretch the response lies this many times higher on the frequency axis
 */
export function addedDb(
  filters: readonly Filter[],
  sampleRateHz: number,
  { frequencyHz, inCells }: Sampling,
  stretch = 1,
): Float64Array {
  const at = (hz: number) => Math.min(sampleRateHz / 2, hz / stretch);
  const cell = frequencyHz.length > 1 ? log2(frequencyHz[1]! / frequencyHz[0]!) : 0;
  const placesIn = ({ q }: Filter) => Math.ceil(cell * q * Math.LN2 * PLACES_PER_WIDTH);
  const isNarrow = (filter: Filter) => inCells && placesIn(filter) > 1;
  const wide = filters.filter((filter) => !isNarrow(filter));
  const sumDb = bankResponseDb(wide, sampleRateHz, frequencyHz.map(at));
  for (const filter of filters.filter(isNarrow)) {
    const places = Math.min(MOST_PLACES, placesIn(filter));
    const power = new Float64Array(frequencyHz.length);
    for (let k = 0; k < places; k++) {
      const aside = pow2(cell * ((k + 0.5) / places - 0.5));
      const db = filterResponseDb(
        filter,
        sampleRateHz,
        frequencyHz.map((hz) => at(hz * aside)),
      );
      for (let i = 0; i < power.length; i++) power[i]! += pow10(db[i]! / 10) / places;
    }
    for (let i = 0; i < power.length; i++) sumDb[i]! += 10 * log10(power[i]!);
  }
  return sumDb;
}
