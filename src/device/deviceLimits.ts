import { conventionFor } from '../filter/qConventions.js';
import type { FitLimits } from '../fit/fitProblem.js';
import { InputError } from '../inputError.js';
import { fixedSlots, freeSlots, typesOf } from './bandSlots.js';
import type { DeviceProfile } from './deviceProfile.js';
import { valuesAround } from './deviceValues.js';

/**
 * What may be fitted for a device: the user's limits and the device's, whichever is tighter, and the device's bands.
 * Bands at fixed frequencies are not for the search; `roundToDevice` puts them in.
 *
 * @throws InputError where the device has nothing within the user's limits
 */
export function deviceLimits(limits: FitLimits, device: DeviceProfile, sampleRateHz: number): FitLimits {
  const slots = freeSlots(device)
    .map((types) => types.filter((type) => limits.types.includes(type)))
    .filter((types) => types.length > 0);
  const { frequencyHz, gainDb } = device;
  const q = cookbookQ(device, sampleRateHz);
  const narrowed = {
    ...limits,
    maxBands: Math.min(limits.maxBands, slots.length),
    types: typesOf(slots),
    slots,
    maxBoostDb: Math.min(limits.maxBoostDb, Math.max(0, gainDb.max)),
    maxCutDb: Math.min(limits.maxCutDb, Math.max(0, -gainDb.min)),
    minQ: Math.max(limits.minQ, q.min),
    maxQ: Math.min(limits.maxQ, q.max),
    minFrequencyHz: Math.max(limits.minFrequencyHz, slots.length > 0 ? frequencyHz.min : 0),
    maxFrequencyHz: Math.min(limits.maxFrequencyHz, slots.length > 0 ? frequencyHz.max : sampleRateHz / 2),
  };
  const range = { ...frequencyHz, min: narrowed.minFrequencyHz, max: narrowed.maxFrequencyHz };
  const fixed = fixedSlots(device).some(
    (slot) => slot.frequencyHz >= range.min && slot.frequencyHz <= range.max,
  );
  if (
    !fixed &&
    (slots.length === 0 || range.min > range.max || valuesAround(range, range.min).length === 0)
  ) {
    throw new InputError(
      `device "${device.name}": it has no band between ${limits.minFrequencyHz.toFixed(0)} and ` +
        `${limits.maxFrequencyHz.toFixed(0)} Hz, where the range to be corrected lies`,
    );
  }
  if (gainDb.min === 0 && gainDb.max === 0) {
    throw new InputError(
      `device "${device.name}": found no gain but 0 dB, expected one that changes something`,
    );
  }
  if (narrowed.minQ > narrowed.maxQ * (1 + 1e-9)) {
    throw new InputError(
      `device "${device.name}": its Q from ${q.min.toPrecision(3)} to ${q.max.toPrecision(3)} (cookbook) has nothing ` +
        `in common with the ${limits.minQ} to ${limits.maxQ} allowed (--q-min, --q-max)`,
    );
  }
  if (narrowed.minQ > narrowed.maxShelfQ * (1 + 1e-9) && narrowed.types.some((type) => type !== 'peaking')) {
    throw new InputError(
      `device "${device.name}": its least Q of ${narrowed.minQ.toPrecision(3)} (cookbook) is above the ` +
        `${limits.maxShelfQ} allowed for shelves (--shelf-q-max)`,
    );
  }
  return narrowed;
}

/** The cookbook's Q that the device can have with any of its gains and frequencies. */
function cookbookQ(device: DeviceProfile, sampleRateHz: number): { min: number; max: number } {
  let min = Number.POSITIVE_INFINITY;
  let max = 0;
  const types = new Set(device.bands.flatMap((group) => group.types));
  const frequencies = [
    device.frequencyHz.min,
    1000,
    device.frequencyHz.max,
    ...device.bands.flatMap((b) => b.atHz ?? []),
  ];
  const gains = [device.gainDb.min, device.gainDb.min / 4, device.gainDb.max / 4, device.gainDb.max];
  for (const type of types) {
    const convention = conventionFor(device.qConvention, type);
    for (const hz of frequencies) {
      for (const gainDb of gains.filter((gain) => gain !== 0)) {
        const shape = { type, frequencyHz: Math.min(hz, 0.45 * sampleRateHz), gainDb };
        const possible = convention.range(shape, sampleRateHz);
        if (!possible) continue;
        for (const setting of [device.q.min, device.q.max]) {
          const inside = Math.min(Math.max(setting, possible.min * 1.001), possible.max * 0.999);
          if (!(inside > 0)) continue;
          const q = convention.toCookbookQ(inside, shape, sampleRateHz);
          min = Math.min(min, q);
          max = Math.max(max, q);
        }
      }
    }
  }
  return { min, max };
}
