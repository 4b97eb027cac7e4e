import type { FilterType } from '../filter/filter.js';
import type { DeviceProfile } from './deviceProfile.js';

interface Placed {
  readonly type: FilterType;
  readonly frequencyHz: number;
}

/**
 * Which band of the device each filter goes into, counted from 0 in the order of its file; by augmenting paths, so
 * that all find one where that is possible.
 *
 * @throws RangeError where the device has no bands for them all
 */
export function assignSlots(filters: readonly Placed[], device: DeviceProfile): number[] {
  const places = placesFor(filters, device);
  if (!places) throw new RangeError(`the device has no bands for all of these ${filters.length} filters`);
  return places;
}

/** As `assignSlots`; undefined where the device has no bands for them all. */
export function placesFor(filters: readonly Placed[], { bands }: DeviceProfile): number[] | undefined {
  const slots = bands.flatMap(({ types, count, atHz }) =>
    Array.from({ length: count }, (_, k) => ({ types, atHz: atHz?.[k] })),
  );
  const holder = new Map<number, number>();
  const place = (filter: number, visited: Set<number>): boolean => {
    const { type, frequencyHz } = filters[filter]!;
    for (const [slot, { types, atHz }] of slots.entries()) {
      const takes = types.includes(type) && (atHz === undefined || atHz === frequencyHz);
      if (!takes || visited.has(slot)) continue;
      visited.add(slot);
      const held = holder.get(slot);
      if (held === undefined || place(held, visited)) {
        holder.set(slot, filter);
        return true;
      }
    }
    return false;
  };
  if (!filters.every((_, filter) => place(filter, new Set()))) return undefined;
  const slotOf = new Map(Array.from(holder, ([slot, filter]) => [filter, slot]));
  return filters.map((_, filter) => slotOf.get(filter)!);
}
