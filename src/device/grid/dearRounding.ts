import type { Warning } from '../../warning.js';
import type { DeviceProfile } from '../profile/deviceProfile.js';
import { isWithoutSteps } from '../profile/deviceValues.js';

/** A cost of rounding worth a word: this many dB, and this share of what remained before. */
const DEAR_DB = 0.2;
const DEAR_SHARE = 0.25;

/** Weighted RMS as a design states it, stage by stage. */
export interface RoundingStages {
  readonly unroundedRmsDb: number;
  readonly roundedRmsDb: number;
  /** With the device's numbers, did it compute exactly; asked only where the cost is worth a word. */
  readonly exactlyComputedRmsDb: () => number;
  /** Filters that the device's number format could not hold. */
  readonly lost: number;
}

/** Says that a device costs much, and what of it: its steps, its number format, or the meaning that it gives its numbers. */
export function dearRounding(
  device: DeviceProfile,
  { unroundedRmsDb, roundedRmsDb, exactlyComputedRmsDb, lost }: RoundingStages,
): Warning[] {
  const cost = roundedRmsDb - unroundedRmsDb;
  if (cost < DEAR_DB || cost < DEAR_SHARE * unroundedRmsDb) return [];
  const remain = `${dB(roundedRmsDb)} dB RMS remain instead of ${dB(unroundedRmsDb)} dB`;
  const ofNumbers = Math.min(cost, Math.max(0, exactlyComputedRmsDb() - unroundedRmsDb));
  // The figures of one sentence are to add up.
  const shown = Number(dB(roundedRmsDb)) - Number(dB(unroundedRmsDb));
  const ofFormat = shown - Number(dB(ofNumbers));
  const steps = isWithoutSteps(device) ? 'what its numbers can say' : 'its steps';
  const message =
    ofFormat > SMALL_SHARE * cost
      ? `"${device.name}" costs ${dB(shown)} dB: ${remain}. ${dB(ofNumbers)} dB of it are for ${steps}, ${dB(ofFormat)} dB ` +
        `for its number format${lost > 0 ? `, which cannot hold ${filters(lost)}` : ''}. Coefficients with more bits, or ` +
        'in another form, would come nearer.'
      : isWithoutSteps(device)
        ? `"${device.name}" costs ${dB(shown)} dB: ${remain}. It has no steps, but its numbers cannot say all that was ` +
          'fitted (see its meaning of Q), or not so that the limits hold.'
        : `The steps of "${device.name}" cost ${dB(shown)} dB: ${remain}. An equalizer with finer frequencies or gains, or ` +
          'more bands, would come nearer.';
  return [{ code: 'rounding-is-dear', message }];
}

/** A part of the cost that is not worth naming. */
const SMALL_SHARE = 0.1;

const dB = (value: number) => value.toFixed(2);
const filters = (count: number) => (count === 1 ? 'one filter' : `${count} filters`);
