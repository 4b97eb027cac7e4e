import type { Filter } from '../../src/filter/filter.js';

/** A speaker's unevenness as five peaks, wide and narrow, and a shelf at either end. */
export function randomBank(random: () => number): Filter[] {
  const between = (low: number, high: number) => low + (high - low) * random();
  const logarithmic = (low: number, high: number) => low * (high / low) ** random();
  const peaks = Array.from(
    { length: 5 },
    (): Filter => ({
      type: 'peaking',
      frequencyHz: logarithmic(50, 14000),
      gainDb: between(-6, 8),
      q: logarithmic(0.6, 7),
    }),
  );
  return [
    ...peaks,
    { type: 'lowShelf', frequencyHz: logarithmic(80, 400), gainDb: between(-5, 5), q: logarithmic(0.5, 2) },
    {
      type: 'highShelf',
      frequencyHz: logarithmic(2000, 9000),
      gainDb: between(-5, 5),
      q: logarithmic(0.5, 2),
    },
  ];
}
