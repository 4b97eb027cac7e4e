import { looksGated } from './looksGated.js';
import { looksLikePhase } from './looksLikePhase.js';
import { looksLinear } from './looksLinear.js';
import { looksSmoothed } from './looksSmoothed.js';
import type { Measurement } from './measurement.js';
import { readCurveText } from './readCurveText.js';

export type { Measurement } from './measurement.js';

const MIN_ROWS = 16;

/**
 * Reads a measurement as `readCurveText` does, and warns of levels that look wrong and of one that looks smoothed or gated.
 *
 * @param bytes the whole file
 * @param fileName as it shall stand in messages
 * @throws InputError naming file, line, what was found and what was expected
 */
export function readMeasurementText(bytes: Uint8Array, fileName: string): Measurement {
  const read = readCurveText(bytes, fileName, MIN_ROWS);
  const { curve, comments } = read;
  return {
    fileName,
    ...read,
    warnings: [
      ...read.warnings,
      ...looksLinear(curve, fileName),
      ...looksLikePhase(curve, fileName),
      ...looksSmoothed(curve, comments, fileName),
      ...looksGated(curve, comments, fileName),
    ],
  };
}
