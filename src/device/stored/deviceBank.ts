import type { Filter, FilterType } from '../../filter/filter.js';
import { conventionFor, filterFromSetting, settingFromFilter } from '../../filter/qConventions.js';
import { type Bands, bandsFromFilters } from '../../fit/bank/bands.js';
import { qEnds } from '../../fit/bank/bounds.js';
import { mostQ } from '../../fit/bank/wideBoosts.js';
import type { FitLimits } from '../../fit/problem/fitProblem.js';
import type { DeviceProfile, DeviceRange } from '../profile/deviceProfile.js';
import { isContinuous, steppedValue, valuesAround } from '../profile/deviceValues.js';

/** A band as it is entered into a device: `q` on the scale of the device's convention. */
export interface DeviceBand {
  readonly type: FilterType;
  readonly frequencyHz: number;
  readonly gainDb: number;
  readonly q: number;
}

/** What rounding works within: the device, and what the user allows. */
export interface DeviceBounds {
  readonly device: DeviceProfile;
  readonly sampleRateHz: number;
  readonly limits: FitLimits;
}

/** The filter that the device makes of a band; undefined where the band breaks a bound of its own or is impossible. */
export function filterOf(bounds: DeviceBounds, band: DeviceBand): Filter | undefined {
  const { type, frequencyHz, gainDb, q } = band;
  // A band at 0 dB is off, whatever else it says.
  if (gainDb === 0) return { type, frequencyHz, gainDb, q: 1 };
  const filter = filterFromSetting(band, q, bounds.device.qConvention, bounds.sampleRateHz);
  return filter && isWithin(bounds.limits, filter) ? filter : undefined;
}

/** The bank of the device's bands; undefined where one of them is impossible. */
export function bandsOf(bounds: DeviceBounds, bank: readonly DeviceBand[]): Bands | undefined {
  const filters: Filter[] = [];
  for (const band of bank) {
    const filter = filterOf(bounds, band);
    if (!filter) return undefined;
    filters.push(filter);
  }
  return bandsFromFilters(filters);
}

/** The device's gains next to a gain, with which some filter of this convention and within the limits exists. */
export function gainsAround(bounds: DeviceBounds, filter: Filter): number[] {
  const { maxBoostDb, maxCutDb } = bounds.limits;
  const range = bounds.device.gainDb;
  const possible = (gainDb: number) => {
    if (gainDb > maxBoostDb + SLACK || gainDb < -maxCutDb - SLACK) return false;
    const shape = { ...filter, gainDb };
    return (
      gainDb === 0 ||
      conventionFor(bounds.device.qConvention, filter.type).range(shape, bounds.sampleRateHz) !== undefined
    );
  };
  const near = valuesAround(range, filter.gainDb).filter(possible);
  return near.length > 0 ? near : [0];
}

/** The device's settings of Q next to a filter's, with which the filter stays within the limits. */
export function qSettingsAround(bounds: DeviceBounds, filter: Filter): number[] {
  const { device, sampleRateHz } = bounds;
  if (filter.gainDb === 0) return valuesAround(device.q, (device.q.min + device.q.max) / 2).slice(0, 1);
  const exact = settingFromFilter(filter, device.qConvention, sampleRateHz);
  if (exact === undefined) return [];
  const possible = (q: number | undefined): q is number =>
    q !== undefined && filterOf(bounds, { ...filter, q }) !== undefined;
  const near = valuesAround(device.q, exact);
  const inside = near.filter(possible);
  if (inside.length > 0) return inside;
  return [1, -1].map((steps) => steppedValue(device.q, near[0]!, steps)).filter(possible);
}

/** The device's frequencies next to one, within the limits. */
export function frequenciesAround(bounds: DeviceBounds, frequencyHz: number): number[] {
  const range = frequencyRange(bounds);
  return isContinuous(range) ? [frequencyHz] : valuesAround(range, frequencyHz);
}

export function frequencyRange({ device, limits }: Pick<DeviceBounds, 'device' | 'limits'>): DeviceRange {
  const { frequencyHz } = device;
  return {
    ...frequencyHz,
    min: Math.max(frequencyHz.min, limits.minFrequencyHz),
    max: Math.min(frequencyHz.max, limits.maxFrequencyHz),
  };
}

const SLACK = 1e-9;

function isWithin(limits: FitLimits, filter: Filter): boolean {
  const { type, frequencyHz, gainDb, q } = filter;
  const { min, max } = qEnds(limits, type);
  return (
    frequencyHz >= limits.minFrequencyHz * (1 - SLACK) &&
    frequencyHz <= limits.maxFrequencyHz * (1 + SLACK) &&
    gainDb <= limits.maxBoostDb + SLACK &&
    gainDb >= -limits.maxCutDb - SLACK &&
    q >= min * (1 - SLACK) &&
    q <= Math.min(max, Math.max(min, mostQ(limits, filter))) * (1 + SLACK)
  );
}
