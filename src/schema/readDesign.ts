import { InputError } from '../inputError.js';
import { type Design, designSchema } from './design.js';
import { readJson } from './readJson.js';

/**
 * Reads a design as `fit` and the worksheet leave it.
 *
 * @param expected as for `readJson`
 * @throws InputError where it is no design, or its curves or filters do not belong together
 */
export function readDesign(text: string, fileName: string, expected?: string): Design {
  const design = readJson(designSchema, text, fileName, expected);
  refuseUnevenCurves(design, fileName);
  refuseUnlikeFilters(design, fileName);
  return design;
}

function refuseUnevenCurves({ curves: { frequencyHz, ...levels } }: Design, fileName: string): void {
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

/** What no fit leaves, but an editor may: filters that the sample rate cannot hold, and settings that are not theirs. */
function refuseUnlikeFilters({ filters, deviceSettings, sampleRateHz }: Design, fileName: string): void {
  const tooHigh = filters.findIndex(({ frequencyHz }) => frequencyHz >= sampleRateHz / 2);
  if (tooHigh >= 0) {
    throw new InputError(
      `${fileName}: filters[${tooHigh}].frequencyHz: found ${filters[tooHigh]!.frequencyHz}, expected less than ` +
        `${sampleRateHz / 2}, half of sampleRateHz`,
    );
  }
  if (deviceSettings && deviceSettings.length !== filters.length) {
    throw new InputError(
      `${fileName}: found ${deviceSettings.length} in deviceSettings, expected ${filters.length}, one for each of filters`,
    );
  }
}
