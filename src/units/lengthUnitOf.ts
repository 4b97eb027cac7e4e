import { tidyQuantity } from './tidyQuantity.js';
import { imperialLengthUnits } from './unitTables.js';

/** In which unit to show lengths to someone who wrote this one: inches for inches, feet and yards, else centimetres. */
export function lengthUnitOf(text: string | number): 'cm' | 'in' {
  const words = tidyQuantity(String(text))
    .toLowerCase()
    .split(/[\d\s.,/±+*()^-]+/);
  return words.some((word) => imperialLengthUnits.has(word)) ? 'in' : 'cm';
}
