import { InputError } from '../inputError.js';
import type { SearchEffort } from './search/search.js';

export const EFFORT_NAMES = ['quick', 'normal', 'thorough'] as const;
export type EffortName = (typeof EFFORT_NAMES)[number];

/** How long is searched: a first good bank, the default, and several times the default. */
export const EFFORTS: Readonly<Record<EffortName, SearchEffort>> = {
  quick: { starts: 3, hopsPerBand: 2, pointsPerOctave: 12, finalists: 1 },
  normal: { starts: 4, hopsPerBand: 22, kicks: 2500, pointsPerOctave: 12, finalists: 2 },
  thorough: { starts: 4, hopsPerBand: 240, kicks: 25000, pointsPerOctave: 16, finalists: 4 },
};

/** @throws InputError where it is none of the three */
export function readEffort(written: unknown): EffortName {
  const name = EFFORT_NAMES.find((one) => one === written);
  if (name === undefined) {
    throw new InputError(`--effort: found ${JSON.stringify(written)}, expected ${EFFORT_NAMES.join(', ')}`);
  }
  return name;
}
