import { parseQuantity } from './parseQuantity.js';
import { gainUnits } from './unitTables.js';

/**
 * A gain or level in dB: "-0.8 dB", "3dB", "-6".
 *
 * @throws InputError saying what was found and what was expected
 */
export function parseGainDb(text: string | number, what: string): number {
  return parseQuantity(text, what, gainUnits, { min: -1000, max: 1000 });
}
