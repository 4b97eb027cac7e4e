import type { FilterType } from '../../filter/filter.js';
import type { FixedBand } from '../../fit/problem/fitProblem.js';
import type { DeviceProfile } from './deviceProfile.js';

const TYPES: readonly FilterType[] = ['peaking', 'lowShelf', 'highShelf'];

/** How many bands a device has in all. */
export function bandCount({ bands }: DeviceProfile): number {
  return bands.reduce((sum, { count }) => sum + count, 0);
}

/** Of each band whose frequency can be chosen, what it may be. */
export function freeSlots({ bands }: DeviceProfile): (readonly FilterType[])[] {
  return bands.flatMap(({ types, count, atHz }) => (atHz ? [] : Array.from({ length: count }, () => types)));
}

/** Bands whose frequency is fixed. */
export function fixedSlots({ bands }: DeviceProfile): FixedBand[] {
  return bands.flatMap(({ types, atHz = [] }) =>
    atHz.map((frequencyHz) => ({ type: types[0]!, frequencyHz })),
  );
}

/** The types that any of these slots may have, in the order that we always name them in. */
export function typesOf(slots: readonly (readonly FilterType[])[]): FilterType[] {
  return TYPES.filter((type) => slots.some((types) => types.includes(type)));
}
