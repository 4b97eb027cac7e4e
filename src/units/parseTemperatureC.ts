import { parseQuantity } from './parseQuantity.js';
import { temperatureUnits } from './unitTables.js';

/**
 * An air temperature in °C: "20 degC", "68 °F", "293 K"; degrees Celsius where no unit is given, since nobody
 * measures a room in kelvin. Outside of −60 to 80 °C it is taken for a slip of the unit.
 *
 * @throws InputError saying what was found and what was expected
 */
export function parseTemperatureC(text: string | number, what: string): number {
  return parseQuantity(text, what, temperatureUnits, { min: -60, max: 80 });
}
