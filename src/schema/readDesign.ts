import { InputError } from '../inputError.js';
import { type Design, designSchema } from './design.js';
import { readJson } from './readJson.js';
import { refuseUnlikeFilters } from './refuseUnlikeFilters.js';

/**
 * Reads a design as `fit` and the worksheet leave it.
 *
 * @param expected as for `readJson`
 * @throws InputError where it is no design, or its curves or filters do not belong together
 */
export function readDesign(text: string, fileName: string, expected?: string): Design {
  const design = readJson(designSchema, text, fileName, expected);
  refuseUnevenCurves(design.curves, fileName);
  refuseUnlikeFilters(design, fileName);
  return design;
}

/** @throws InputError where they are not of one length, or their frequencies do not ascend */
export function refuseUnevenCurves({ frequencyHz, ...levels }: Design['curves'], fileName: string): void {
  const uneven = Object.entries(levels).find(([, values]) => values.length !== frequencyHz.length);
  if (uneven) {
    throw new InputError(
      `${fileName}: found ${uneven[1].length} values in curves.${uneven[0]}, expected ${frequencyHz.length} as in curves.frequencyHz`,
    );
  }
  const wrong = frequencyHz.findIndex((hz, i) => !(hz > (frequencyHz[i - 1] ?? 0)));
  if (wrong >= 0 || frequencyHz.length < 2) {
    throw new InputError(
      `${fileName}: found curves.frequencyHz that do not ascend${wrong >= 0 ? ` (entry ${wrong})` : ''}, expected two frequencies or more, positive and ascending`,
    );
  }
}
