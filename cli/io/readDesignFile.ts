import { InputError } from '../../src/inputError.js';
import { type Design, designSchema } from '../../src/schema/design.js';
import { readJson } from '../../src/schema/readJson.js';
import { readInputText } from './readInput.js';

const DESIGN = 'a design as `nullwise fit --out` leaves it (design.json; its format: nullwise schema design)';

/** @throws InputError where it is no design, or its curves or filters do not belong together */
export function readDesignFile(path: string): Design {
  const design = readJson(designSchema, readInputText(path, DESIGN), path, DESIGN);
  const { frequencyHz, ...levels } = design.curves;
  const uneven = Object.entries(levels).find(([, values]) => values.length !== frequencyHz.length);
  if (uneven) {
    throw new InputError(
      `${path}: found ${uneven[1].length} values in curves.${uneven[0]}, expected ${frequencyHz.length} as in curves.frequencyHz`,
    );
  }
  const wrong = frequencyHz.findIndex((hz, i) => !(hz > (frequencyHz[i - 1] ?? 0)));
  if (wrong >= 0 || frequencyHz.length < 2) {
    throw new InputError(
      `${path}: found curves.frequencyHz that do not ascend${wrong >= 0 ? ` (entry ${wrong})` : ''}, expected two frequencies or more, positive and ascending`,
    );
  }
  refuseUnlikeFilters(design, path);
  return design;
}

/** What no fit leaves, but an editor may: filters that the sample rate cannot hold, and settings that are not theirs. */
function refuseUnlikeFilters({ filters, deviceSettings, sampleRateHz }: Design, path: string): void {
  const tooHigh = filters.findIndex(({ frequencyHz }) => frequencyHz >= sampleRateHz / 2);
  if (tooHigh >= 0) {
    throw new InputError(
      `${path}: filters[${tooHigh}].frequencyHz: found ${filters[tooHigh]!.frequencyHz}, expected less than ` +
        `${sampleRateHz / 2}, half of sampleRateHz`,
    );
  }
  if (deviceSettings && deviceSettings.length !== filters.length) {
    throw new InputError(
      `${path}: found ${deviceSettings.length} in deviceSettings, expected ${filters.length}, one for each of filters`,
    );
  }
}
