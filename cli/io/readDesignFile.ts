import { type Checkable, readCheckable } from '../../src/schema/checkable.js';
import { type Correction, readCorrection } from '../../src/schema/correction.js';
import type { Design } from '../../src/schema/design.js';
import { readDesign } from '../../src/schema/readDesign.js';
import { readInputText } from './readInput.js';

const DESIGN = 'a design as `nullwise fit --out` leaves it (design.json; its format: nullwise schema design)';

/** @throws InputError where it is no design, or its curves or filters do not belong together */
export function readDesignFile(path: string): Design {
  return readDesign(readInputText(path, DESIGN), path, DESIGN);
}

/** @throws InputError where it is no design, or its filters are not at home at its sample rate */
export function readCorrectionFile(path: string): Correction {
  return readCorrection(readInputText(path, DESIGN), path, DESIGN);
}

/**
 * @param hasBefore whether a measurement without the filters is given beside it
 * @throws InputError where it is no design, its parts do not belong together, or there is nothing to hold a measurement against
 */
export function readCheckableFile(path: string, hasBefore: boolean): Checkable {
  return readCheckable(readInputText(path, DESIGN), path, hasBefore, DESIGN);
}
