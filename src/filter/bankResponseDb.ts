import type { Filter } from './filter.js';
import { addFilterResponseDb } from './filterResponseDb.js';
import { responseGrid } from './responseGrid.js';

/**
 * Level in dB of filters in series (their product) at each frequency from 0 Hz to half the sample rate.
 * No filters: 0 dB everywhere.
 *
 * @param filters numbers as the Audio EQ Cookbook (W3C Group Note) means them
 * @param frequencyHz any order, from 0 to half of `sampleRateHz`
 * @returns one level for each frequency
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
