import { assignSlots } from '../device/profile/assignSlots.js';
import { fixedSlots, freeSlots } from '../device/profile/bandSlots.js';
import type { DeviceProfile } from '../device/profile/deviceProfile.js';
import { valuesAround } from '../device/profile/deviceValues.js';
import { storedBank } from '../device/stored/storedBank.js';
import { exp } from '../elementary/exponential.js';
import { log } from '../elementary/logarithm.js';
import { bankMaximum } from '../filter/bankMaximum.js';
import { bankResponseDb } from '../filter/bankResponseDb.js';
import type { Filter } from '../filter/filter.js';
import { inputGainDb } from '../filter/inputGainDb.js';
import { conventionFor, filterFromSetting, settingFromFilter } from '../filter/qConventions.js';
import type { LevelAt } from '../fit/objective/excess.js';
import { InputError } from '../inputError.js';
import type { Design } from '../schema/design.js';
import type { Warning } from '../warning.js';
import { type BankOnDevice, bankOnDevice } from './bankOnDevice.js';
import { checkBelowHalfRate } from './checkBelowHalfRate.js';

/** Filters with what they really do, and what a device is given for them. */
export interface RealBank {
  readonly filters: readonly Filter[];
  readonly responseDb: LevelAt;
  readonly maximum: BankOnDevice['maximum'];
  readonly inputGainDb: number;
  readonly fields: Pick<Design, 'device' | 'deviceSettings'>;
  readonly warnings: readonly Warning[];
}

/**
 * Filters that somebody chose, as they will run: as they are, or in the nearest values that a device has.
 *
 * @throws InputError where one stands above half the sample rate, or the device has no band for them all, or no number
 *   that a filter could have
 */
export function realBank(chosen: readonly Filter[], sampleRateHz: number, device?: DeviceProfile): RealBank {
  checkBelowHalfRate(chosen, sampleRateHz);
  if (!device) {
    return {
      filters: chosen,
      responseDb: (frequencyHz) => bankResponseDb(chosen, sampleRateHz, frequencyHz),
      maximum: (fromHz, toHz) => bankMaximum(chosen, sampleRateHz, fromHz, toHz),
      inputGainDb: inputGainDb(chosen, sampleRateHz),
      fields: {},
      warnings: [],
    };
  }
  const settings = chosen.map((filter) => nearestSetting(filter, device, sampleRateHz));
  const filters = settings.map((setting) => filterOfSetting(setting, device, sampleRateHz));
  const slots = slotsOf(filters, device);
  const { deviationDb, fits, impossible } = storedBank(filters, device, sampleRateHz);
  const lost = impossible[0];
  if (lost !== undefined) {
    throw new InputError(
      `filters[${lost}]: found ${filters[lost]!.frequencyHz} Hz, ${filters[lost]!.gainDb} dB, Q ${filters[lost]!.q}, ` +
        `which does not fit the number format of "${device.name}"; expected another frequency, gain or Q`,
    );
  }
  return {
    filters,
    warnings: fits.flatMap(({ warnings }) => warnings),
    ...bankOnDevice({ filters, settings, slots, deviationDb }, device, sampleRateHz),
  };
}

/** Which bands of the device these filters take, counted from 0. */
export function slotsOf(filters: readonly Filter[], device: DeviceProfile): number[] {
  try {
    return assignSlots(filters, device);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    throw new InputError(
      `device "${device.name}": found ${filters.length} filters, expected no more, and of no other type, than it has bands for`,
    );
  }
}

/** A device with some of its bands taken away. */
export function withoutSlots(device: DeviceProfile, taken: readonly number[]): DeviceProfile {
  const single = device.bands.flatMap(({ types, count, atHz }) =>
    Array.from({ length: count }, (_, k) => ({ types, count: 1, ...(atHz && { atHz: [atHz[k]!] }) })),
  );
  return { ...device, bands: single.filter((_, slot) => !taken.includes(slot)) };
}

function nearestSetting(filter: Filter, device: DeviceProfile, sampleRateHz: number): Filter {
  const gainDb = nearest(valuesAround(device.gainDb, filter.gainDb), filter.gainDb);
  const movable = freeSlots(device).some((types) => types.includes(filter.type));
  const frequencies = movable
    ? valuesAround(device.frequencyHz, filter.frequencyHz)
    : fixedSlots(device).flatMap(({ type, frequencyHz }) =>
        type === filter.type && frequencyHz < sampleRateHz / 2 ? [frequencyHz] : [],
      );
  const frequencyHz = nearest(frequencies.map(log), log(filter.frequencyHz), exp, frequencies);
  const shape = { ...filter, frequencyHz, gainDb };
  const middle = Math.sqrt(device.q.min * device.q.max);
  const exact =
    gainDb === 0 ? middle : (settingFromFilter(shape, device.qConvention, sampleRateHz) ?? middle);
  return { ...shape, q: nearest(valuesAround(device.q, exact), exact) };
}

function filterOfSetting(setting: Filter, device: DeviceProfile, sampleRateHz: number): Filter {
  // A band at 0 dB is off, whatever else it says.
  if (setting.gainDb === 0) return { ...setting, q: 1 };
  const filter = filterFromSetting(setting, setting.q, device.qConvention, sampleRateHz);
  if (filter) return filter;
  throw new InputError(
    `device "${device.name}": found no filter of ${short(setting.frequencyHz)} Hz and ${short(setting.gainDb)} dB with ` +
      `the value ${short(setting.q)}, which means: ${conventionFor(device.qConvention, setting.type).words}; expected ` +
      'another gain or Q',
  );
}

const short = (value: number) => Number(value.toPrecision(6));

/** The one of `candidates` nearest to `wanted`; `wanted` itself where there are none. */
function nearest(
  candidates: readonly number[],
  wanted: number,
  back: (value: number) => number = (value) => value,
  originals: readonly number[] = candidates,
): number {
  let best = -1;
  candidates.forEach((candidate, i) => {
    if (best < 0 || Math.abs(candidate - wanted) < Math.abs(candidates[best]! - wanted)) best = i;
  });
  return best < 0 ? back(wanted) : originals[best]!;
}
