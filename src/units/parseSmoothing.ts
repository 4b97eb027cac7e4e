import { InputError } from '../inputError.js';
import { readNumber } from './readNumber.js';
import { tidyQuantity } from './tidyQuantity.js';

/**
 * A smoothing width in octaves: "1/12" (also "1/12 octave"), "none" or 0.
 *
 * @throws InputError saying what was found and what was expected
 */
export function parseSmoothing(text: string | number, what = 'smoothing'): number {
  const tidy = tidyQuantity(String(text)).toLowerCase();
  if (tidy === 'none') return 0;
  const octaves = readNumber(tidy.replace(/ ?oct(?:aves?)?\.?$/, ''));
  if (octaves === undefined || !(octaves >= 0 && octaves <= 2)) {
    throw new InputError(
      `${what}: found ${JSON.stringify(text)}, expected a fraction of an octave such as "1/12", or "none"`,
    );
  }
  return octaves;
}
