import { withDenserCaps } from '../../src/device/grid/withDenserCaps.js';
import { withinLimits } from '../../src/device/grid/withinLimits.js';
import type { DeviceProfile, DeviceRange } from '../../src/device/profile/deviceProfile.js';
import { valuesAround } from '../../src/device/profile/deviceValues.js';
import { type DeviceBand, type DeviceBounds, filterOf } from '../../src/device/stored/deviceBank.js';
import type { Filter } from '../../src/filter/filter.js';
import { settingFromFilter } from '../../src/filter/qConventions.js';
import type { FitProblem } from '../../src/fit/problem/fitProblem.js';

const nearest = (range: DeviceRange, distance: (value: number) => number, x: number) =>
  valuesAround(range, x).reduce((a, b) => (distance(b) < distance(a) ? b : a));
/** What a person enters where there are no steps. */
const figures = (x: number) => Number(x.toPrecision(5));
const thousandths = (db: number) => Math.round(db * 1000) / 1000;

/** Every number to its nearest value, as one would by hand; `q` on the scale of the device's convention. */
export function roundPlainly(
  filters: readonly Filter[],
  device: DeviceProfile,
  sampleRateHz: number,
): DeviceBand[] {
  return filters.flatMap((filter): DeviceBand[] => {
    const { type, frequencyHz, gainDb } = filter;
    const setting = settingFromFilter(filter, device.qConvention, sampleRateHz);
    if (setting === undefined) return [];
    return [
      {
        type,
        frequencyHz: nearest(
          device.frequencyHz,
          (f) => Math.abs(Math.log(f / frequencyHz)),
          figures(frequencyHz),
        ),
        gainDb: nearest(device.gainDb, (g) => Math.abs(g - gainDb), thousandths(gainDb)),
        q: nearest(device.q, (v) => Math.abs(v - setting), figures(setting)),
      },
    ];
  });
}

/** The same brought within the limits without any search: what the device cannot have is left out. */
export function heldPlainly(
  problem: FitProblem,
  device: DeviceProfile,
  plain: readonly DeviceBand[],
): Filter[] {
  const bounds: DeviceBounds = { device, sampleRateHz: problem.sampleRateHz, limits: problem.limits };
  const possible = plain.filter((band) => filterOf(bounds, band));
  const kept = withinLimits(withDenserCaps(problem), bounds, possible, {
    again: (_drawnIn, bank) => bank,
    lost: () => {},
  });
  return kept.map((band) => filterOf(bounds, band)!);
}
