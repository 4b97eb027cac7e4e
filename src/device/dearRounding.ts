import type { Warning } from '../warning.js';
import type { DeviceBounds } from './deviceBank.js';
import { isWithoutSteps } from './deviceValues.js';

/** A cost of rounding worth a word: this many dB, and this share of what remained before. */
const DEAR_DB = 0.2;
const DEAR_SHARE = 0.25;

/** Weighted RMS as a design states it, stage by stage. */
export interface RoundingStages {
  readonly unroundedRmsDb: number;
  /** With numbers that the device has, before limits and stored coefficients are seen to. */
  readonly onGridRmsDb: number;
  readonly roundedRmsDb: number;
  /** Filters that the device's number format could not hold. */
  readonly lost: number;
}

/** Says that a device costs much, and what of it: its steps, or the filters that its number format cannot hold. */
export function dearRounding(
  { device }: DeviceBounds,
  { unroundedRmsDb, onGridRmsDb, roundedRmsDb, lost }: RoundingStages,
): Warning[] {
  const cost = roundedRmsDb - unroundedRmsDb;
  if (cost < DEAR_DB || cost < DEAR_SHARE * unroundedRmsDb) return [];
  const remain = `${roundedRmsDb.toFixed(2)} dB RMS remain instead of ${unroundedRmsDb.toFixed(2)} dB`;
  const finer = 'A device with finer frequencies or gains, or more bands, would come nearer.';
  const warning = (message: string): Warning[] => [{ code: 'rounding-is-dear', message }];
  if (lost > 0) {
    const ofSteps = Math.min(cost, Math.max(0, onGridRmsDb - unroundedRmsDb));
    const hasSteps = !isWithoutSteps(device) && Number(ofSteps.toFixed(2)) > 0;
    const what = lost === 1 ? 'one filter' : `${lost} filters`;
    return warning(
      `"${device.name}" costs ${cost.toFixed(2)} dB: ${remain}. ` +
        (hasSteps
          ? `${ofSteps.toFixed(2)} dB of it are for its steps, the rest for ${what} that its number format cannot hold. `
          : `Its number format cannot hold ${what}. `) +
        'Coefficients with more bits, or in another form, would come nearer.',
    );
  }
  if (isWithoutSteps(device)) {
    return warning(
      `"${device.name}" costs ${cost.toFixed(2)} dB: ${remain}. It has no steps; it cannot hold every filter that was ` +
        'fitted with the numbers that it takes, or not so that the limits hold.',
    );
  }
  return warning(`The steps of "${device.name}" cost ${cost.toFixed(2)} dB: ${remain}. ${finer}`);
}
