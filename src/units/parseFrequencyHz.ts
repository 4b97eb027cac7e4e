import { parseQuantity } from './parseQuantity.js';
import { frequencyUnits } from './unitTables.js';

/**
 * A frequency in Hz, > 0: "80", "2.5 kHz", "2.5k".
 *
 * @throws InputError saying what was found and what was expected
 */
export function parseFrequencyHz(text: string | number, what: string): number {
  return parseQuantity(text, what, frequencyUnits, { min: Number.MIN_VALUE, max: 1e9 });
}
