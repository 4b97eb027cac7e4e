import type { Bands } from './bands.js';
import { bandsFromFilters, filtersFromBands } from './bands.js';
import { type Bounds, clampToBounds } from './bounds.js';

/** Rounds a bank to numbers a person can copy (frequency and Q to five figures, gain to 0.001 dB), ascending in frequency. */
export function roundBands(bands: Bands, bounds: Bounds): Bands {
  const rounded = filtersFromBands(bands)
    .map((filter) => ({
      ...filter,
      frequencyHz: significant(filter.frequencyHz, 5),
      gainDb: Math.round(filter.gainDb * 1000) / 1000 + 0,
      q: significant(filter.q, 5),
    }))
    .filter((filter) => filter.gainDb !== 0)
    .sort((a, b) => a.frequencyHz - b.frequencyHz || a.q - b.q);
  const { types, values } = bandsFromFilters(rounded);
  return { types, values: values.map((value, j) => clampToBounds(value, j, bounds)) };
}

function significant(value: number, figures: number): number {
  return Number(value.toPrecision(figures));
}
