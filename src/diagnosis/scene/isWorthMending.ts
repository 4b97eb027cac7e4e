import type { Feature } from '../features/detectFeatures.js';

const LEAST_DB = 1.2;
const LEAST_OCTAVES = 1 / 16;
/** Height times width: 2 dB over a tenth of an octave. */
const LEAST_AREA = 0.2;

/** Whether a peak or dip is high and wide enough to be heard and to be worth a band. */
export function isWorthMending({ levelDb, widthOctaves }: Feature): boolean {
  const height = Math.abs(levelDb);
  return height >= LEAST_DB && widthOctaves >= LEAST_OCTAVES && height * widthOctaves >= LEAST_AREA;
}
