import { nearestPlace } from '../../curve/nearestPlace.js';
import { log } from '../../elementary/logarithm.js';
import type { Filter } from '../../filter/filter.js';
import { settingFromFilter } from '../../filter/qConventions.js';
import { roundFilter } from '../../fit/bank/roundBands.js';
import { fixedSlots } from '../profile/bandSlots.js';
import type { DeviceRange } from '../profile/deviceProfile.js';
import { valuesAround } from '../profile/deviceValues.js';
import { type DeviceBand, type DeviceBounds, filterOf, frequenciesAround } from '../stored/deviceBank.js';

/** Every number of each filter at the device's nearest, as one would by hand; without what the device cannot have. */
export function nearestBank(bounds: DeviceBounds, filters: readonly Filter[]): DeviceBand[] {
  const { device, sampleRateHz } = bounds;
  const fixedHz = fixedSlots(device).map(({ frequencyHz }) => frequencyHz);
  return filters.flatMap((filter): DeviceBand[] => {
    const setting = settingFromFilter(filter, device.qConvention, sampleRateHz);
    if (setting === undefined) return [];
    // What a device takes as it comes is given to so many figures as a fit gives.
    const exact = roundFilter({ ...filter, q: setting });
    const nearHz = frequenciesAround(bounds, exact.frequencyHz);
    // The optimizer's logarithm blurs the last digits.
    const ownHz = fixedHz.find((hz) => Math.abs(hz - filter.frequencyHz) < 1e-6 * hz);
    const band = {
      type: filter.type,
      frequencyHz: ownHz ?? nearHz[nearestPlace(nearHz, exact.frequencyHz, log)]!,
      gainDb: nearest(device.gainDb, exact.gainDb),
      q: nearest(device.q, exact.q),
    };
    return band.gainDb !== 0 && filterOf(bounds, band) ? [band] : [];
  });
}

function nearest(range: DeviceRange, x: number): number {
  const near = valuesAround(range, x);
  return near[nearestPlace(near, x)]!;
}
