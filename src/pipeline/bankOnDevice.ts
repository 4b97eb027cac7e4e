import { insideMaximumDb } from '../device/grid/insideMaximumDb.js';
import { deviceDelay } from '../device/profile/deviceDelay.js';
import type { DeviceProfile } from '../device/profile/deviceProfile.js';
import { storedMaximum, storedMaximumDb } from '../device/stored/realResponse.js';
import type { BankMaximum } from '../filter/bankMaximum.js';
import { bankResponseDb } from '../filter/bankResponseDb.js';
import type { Filter } from '../filter/filter.js';
import { inputGainForDb } from '../filter/inputGainDb.js';
import type { LevelAt } from '../fit/objective/excess.js';
import type { Design } from '../schema/design.js';
import { roundDb } from './rounding.js';

/** Filters on a device's grid: what is entered for each, and what storing their coefficients adds to them all. */
export interface EnteredBank {
  readonly filters: readonly Filter[];
  /** One for each filter, on the scale of the device's convention. */
  readonly settings: readonly Filter[];
  /** The band of each filter, from 0. */
  readonly slots: readonly number[];
  readonly deviationDb: LevelAt;
}

/** What a device makes of a bank, and what it needs for it. */
export interface BankOnDevice {
  /** Response of the bank, rounded coefficients included. */
  readonly responseDb: LevelAt;
  /** Its greatest level between two frequencies; 0 Hz and half the sample rate unless given. */
  readonly maximum: (fromHz?: number, toHz?: number) => BankMaximum;
  /** Enough that neither the sum of all bands nor, where the headroom is limited, that of the first ones overloads. */
  readonly inputGainDb: number;
  readonly fields: Required<Pick<Design, 'device' | 'deviceSettings'>>;
}

/** The same for a bank that was fitted and for one that was chosen by hand. */
export function bankOnDevice(
  { filters, settings, slots, deviationDb }: EnteredBank,
  device: DeviceProfile,
  sampleRateHz: number,
): BankOnDevice {
  const { name, sampleRatesHz, qConvention, coefficients, headroomDb } = device;
  const inOrder = filters.map((filter, i) => ({ filter, slot: slots[i]! })).sort((a, b) => a.slot - b.slot);
  const insideDb = insideMaximumDb(
    inOrder.map(({ filter }) => filter),
    device,
    sampleRateHz,
  );
  const peakDb = Math.max(
    storedMaximumDb(filters, deviationDb, sampleRateHz),
    insideDb - (headroomDb ?? Number.POSITIVE_INFINITY),
  );
  // A band at 0 dB is off.
  const inUse = filters.filter(({ gainDb }) => gainDb !== 0).length;
  const delay = deviceDelay(device, inUse, sampleRateHz);
  return {
    responseDb: (frequencyHz) => {
      const addedDb = deviationDb(frequencyHz);
      return bankResponseDb(filters, sampleRateHz, frequencyHz).map((db, i) => db + addedDb[i]!);
    },
    maximum: (fromHz, toHz) => storedMaximum(filters, deviationDb, sampleRateHz, fromHz, toHz),
    inputGainDb: inputGainForDb(peakDb),
    fields: {
      device: {
        name,
        sampleRatesHz: [...sampleRatesHz],
        qConvention,
        ...(coefficients && { coefficients: { ...coefficients, order: [...coefficients.order] } }),
        ...(headroomDb !== undefined && { headroomDb, insideMaxDb: roundDb(insideDb) }),
        ...(delay && { delay }),
      },
      deviceSettings: settings.map((setting, i) => ({ band: slots[i]! + 1, ...setting })),
    },
  };
}
