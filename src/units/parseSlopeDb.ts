import { parseQuantity } from './parseQuantity.js';
import { gainUnits } from './unitTables.js';

const slopeUnits = {
  ...gainUnits,
  kind: 'a slope in dB per octave',
  examples: '"-0.8 dB per octave" or "-0.8"',
};

/**
 * A slope in dB per octave: "-0.8 dB per octave", "-0.8 dB/oct", "-0.8 dB", "-0.8".
 *
 * @throws InputError saying what was found and what was expected
 */
export function parseSlopeDb(text: string | number, what: string): number {
  const gain = typeof text === 'string' ? text.replace(/ *(?:\/|per) *oct(?:ave)?\.? *$/i, '') : text;
  return parseQuantity(gain, what, slopeUnits, { min: -1000, max: 1000 });
}
