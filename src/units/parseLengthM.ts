import { InputError } from '../inputError.js';
import { parseQuantity, splitQuantity } from './parseQuantity.js';
import { quoted } from './quoted.js';
import { tidyQuantity } from './tidyQuantity.js';
import { lengthUnits } from './unitTables.js';

const FEET_AND_MORE = /^([+-]?[\d.,/ ]*\d[.,]? ?(?:'|ft|foot|feet))\.? ?(\d.*)$/i;

/**
 * A length in metres, ≥ 0: "29 cm", "0.29" (metres), "11.5 in", `11 1/2"`, `4' 6"`, "29 cm + 2 mm".
 *
 * @throws InputError saying what was found and what was expected
 * @throws UnitEngineNeeded where only the unit engine could read it and is not loaded
 */
export function parseLengthM(text: string | number, what: string): number {
  const both = typeof text === 'string' ? FEET_AND_MORE.exec(tidyQuantity(text)) : null;
  const inches = both && splitQuantity(both[2]!);
  if (!inches) return parseQuantity(text, what, lengthUnits, { min: 0, max: 1e6 });
  if (!['in', 'inch', 'inches', '"'].includes(inches.unit)) {
    throw new InputError(
      `${what}: found ${quoted(text)}, expected feet and inches such as 4' 6" or a length in cm`,
    );
  }
  return parseLengthM(both[1]!, what) + parseLengthM(both[2]!, what);
}
