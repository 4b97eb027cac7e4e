import { pow2 } from '../elementary/exponential.js';
import { log2, log10 } from '../elementary/logarithm.js';
import { pow10 } from '../elementary/power.js';
import { bankResponseDb } from '../filter/bankResponseDb.js';
import type { Filter } from '../filter/filter.js';
import { filterResponseDb } from '../filter/filterResponseDb.js';
import type { ThroughSmoothing } from './smoothedAlike.js';
import type { ThroughGate } from './throughGate.js';

/** Where filters are looked at, as the measurement sees them. */
export interface Sampling {
  /** Evenly spaced on log frequency. */
  readonly frequencyHz: Float64Array;
  /** Whether each level is the mean power of a cell, half-way to half-way, and not that of a point. */
  readonly inCells: boolean;
  /** Where filters ring past the end of what was kept of an impulse response. */
  readonly gate?: ThroughGate;
  /** Where what is compared has been smoothed. */
  readonly smoothing?: ThroughSmoothing;
}

/** Over a sixth of what lies between its points of half the gain a filter runs nearly straight. */
const PLACES_PER_WIDTH = 6;
const MOST_PLACES = 96;

/** What a measurement shows of filters, in dB: what they add, what a gate takes off it, and what smoothing leaves of that. */
export function addedDb(
  filters: readonly Filter[],
  sampleRateHz: number,
  sampling: Sampling,
  stretch = 1,
): Float64Array {
  const { gate, frequencyHz, smoothing, ...plain } = sampling;
  if (smoothing) {
    const fine: Sampling = { ...plain, frequencyHz: smoothing.frequencyHz, ...(gate && { gate }) };
    return smoothing.shownDb(addedDb(filters, sampleRateHz, fine, stretch));
  }
  const ownDb = inCellsDb(filters, sampleRateHz, sampling, stretch);
  if (!gate) return ownDb;
  const correctionDb = gate.correctionDb(filters, sampleRateHz, frequencyHz, stretch);
  return ownDb.map((db, i) => db + correctionDb[i]!);
}

/**
 * What other filters in the place of one add, less what that one does. A gate looks at the whole bank, since what rings
 * on from one filter goes through all others, and so does a mean of power.
 *
 * @returns a function of the other filters: none where it is missing, itself two times where it is doubled
 */
export function insteadDb(
  filters: readonly Filter[],
  index: number,
  sampleRateHz: number,
  sampling: Sampling,
): (...others: readonly Filter[]) => Float64Array {
  const isWhole = sampling.gate !== undefined || sampling.smoothing !== undefined;
  const looked = isWhole ? filters : [filters[index]!];
  const at = isWhole ? index : 0;
  const promised = addedDb(looked, sampleRateHz, sampling);
  return (...others) =>
    addedDb(looked.toSpliced(at, 1, ...others), sampleRateHz, sampling).map((db, i) => db - promised[i]!);
}

/**
 * What filters add, in dB. Where a dense measurement has been averaged into cells, a filter narrower than a cell is
 * averaged as well: at its centre it would seem to have all its gain over the whole cell, beside it none.
 * Through a gate nothing is as narrow where a cell is narrower than what the gate resolves.
 *
 * @param stretch the response lies this many times higher on the frequency axis
 */
function inCellsDb(
  filters: readonly Filter[],
  sampleRateHz: number,
  { frequencyHz, inCells, gate }: Sampling,
  stretch: number,
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
    const atPoint = gate && filterResponseDb(filter, sampleRateHz, frequencyHz.map(at));
    for (let i = 0; i < power.length; i++) {
      const isResolved = !gate || frequencyHz[i]! * cell * Math.LN2 * gate.afterS > 1;
      sumDb[i]! += isResolved ? 10 * log10(power[i]!) : atPoint![i]!;
    }
  }
  return sumDb;
}
