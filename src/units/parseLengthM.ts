import { InputError } from '../inputError.js';
import { parseQuantity, splitQuantity } from './parseQuantity.js';
import { tidyQuantity } from './tidyQuantity.js';
import { lengthUnits } from './unitTables.js';

const FEET_AND_INCHES = /^(\S.*?(?:'|ft|foot|feet))\.? ?(\d.*)$/i;

/**
 * A length in metres, ≥ 0: "29 cm", "0.29" (metres), "11.5 in", `11 1/2"`, `4' 6"`.
 *
 * @throws InputError saying what was found and what was expected
 */
export function parseLengthM(text: string | number, what: string): number {
  const both = typeof text === 'string' ? FEET_AND_INCHES.exec(tidyQuantity(text)) : null;
  if (!both) return parseQuantity(text, what, lengthUnits, { min: 0, max: 1e6 });
  const inches = splitQuantity(both[2]!);
  if (!inches || !['in', 'inch', 'inches', '"'].includes(inches.unit)) {
    throw new InputError(
      `${what}: found "${text}", expected feet and inches such as 4' 6" or a length in cm`,
    );
  }
  return parseLengthM(both[1]!, what) + parseLengthM(both[2]!, what);
}
