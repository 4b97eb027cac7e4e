import { closedForm, quotientDb } from './closedForm.js';
import type { Filter } from './filter.js';
import { type ResponseGrid, responseGrid } from './responseGrid.js';

/**
 * Level of one filter in dB at each frequency, in closed form (see `closedForm`): accurate to about 1e-13 dB from
 * 0 Hz to exactly half the sample rate, without the loss that coefficients suffer at low frequencies.
 *
 * @param frequencyHz n frequencies from 0 to half of `sampleRateHz`
 */
export function filterResponseDb(
  filter: Filter,
  sampleRateHz: number,
  frequencyHz: Float64Array,
): Float64Array {
  const levelDb = new Float64Array(frequencyHz.length);
  addFilterResponseDb(filter, responseGrid(sampleRateHz, frequencyHz), levelDb);
  return levelDb;
}

/** Adds the level of one filter to `levelDb` in place; for loops that keep one grid and one buffer. */
export function addFilterResponseDb(filter: Filter, grid: ResponseGrid, levelDb: Float64Array): void {
  const { sinSquared, cosSquared } = grid;
  const form = closedForm(filter, grid.sampleRateHz);
  if (typeof form === 'number') {
    for (let i = 0; i < levelDb.length; i += 1) levelDb[i] = levelDb[i]! + form;
    return;
  }
  for (let i = 0; i < levelDb.length; i += 1) {
    levelDb[i] = levelDb[i]! + quotientDb(form, sinSquared[i]!, cosSquared[i]!);
  }
}
