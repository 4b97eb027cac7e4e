import { parseQuantity } from './parseQuantity.js';
import { timeUnits } from './unitTables.js';

/**
 * A time in seconds, ≥ 0: "5 ms", "0.005", "200 us".
 *
 * @throws InputError saying what was found and what was expected
 */
export function parseTimeS(text: string | number, what: string): number {
  return parseQuantity(text, what, timeUnits, { min: 0, max: 1e6 });
}
