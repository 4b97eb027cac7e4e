import type { Filter } from '../../filter/filter.js';
import type { Bands } from './bands.js';
import { bandsFromFilters, filtersFromBands } from './bands.js';
import { type Bounds, clampBands } from './bounds.js';

/** Rounds a bank to numbers a person can copy (frequency and Q to five figures, gain to 0.001 dB), ascending in frequency. */
export function roundBands(bands: Bands, bounds: Bounds): Bands {
  const rounded = filtersFromBands(bands)
    .map(roundFilter)
    .filter((filter) => filter.gainDb !== 0)
    .sort((a, b) => a.frequencyHz - b.frequencyHz || a.q - b.q);
  return clampBands(bandsFromFilters(rounded), bounds);
}

/** Frequency and Q to five figures, gain to 0.001 dB. */
export function roundFilter(filter: Filter): Filter {
  return {
    type: filter.type,
    frequencyHz: significant(filter.frequencyHz, 5),
    gainDb: Math.round(filter.gainDb * 1000) / 1000 + 0,
    q: significant(filter.q, 5),
  };
}

function significant(value: number, figures: number): number {
  return Number(value.toPrecision(figures));
}
