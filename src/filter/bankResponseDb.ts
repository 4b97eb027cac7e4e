import type { Filter } from './filter.js';
import { addFilterResponseDb } from './filterResponseDb.js';
import { responseGrid } from './responseGrid.js';

/**
 * Level in dB of filters in series (their product) at each frequency from 0 Hz to half the sample rate.
 * No filters: 0 dB everywhere.
 */
export function bankResponseDb(
  filters: readonly Filter[],
  sampleRateHz: number,
  frequencyHz: Float64Array,
): Float64Array {
  const grid = responseGrid(sampleRateHz, frequencyHz);
  const levelDb = new Float64Array(frequencyHz.length);
  for (const filter of filters) addFilterResponseDb(filter, grid, levelDb);
  return levelDb;
}
