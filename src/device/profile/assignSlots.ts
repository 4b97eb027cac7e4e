import type { FilterType } from '../../filter/filter.js';
import type { DeviceProfile } from './deviceProfile.js';

interface Placed {
  readonly type: FilterType;
  readonly frequencyHz: number;
}

/**
 * Which band of the device each filter goes into, counted from 0 in the order of its file; by augmenting paths, so
 * that all find one where that is possible. Among bands that may be the same, the numbers rise with the frequency.
 *
 * @throws RangeError where the device has no bands for them all
 */
export function assignSlots(filters: readonly Placed[], device: DeviceProfile): number[] {
  const places = placesFor(filters, device);
  if (!places) throw new RangeError(`the device has no bands for all of these ${filters.length} filters`);
  return ascending(filters, places, device);
}

/** The same bands, handed out anew by frequency wherever they can stand in for each other. */
function ascending(
  filters: readonly Placed[],
  places: readonly number[],
  { bands }: DeviceProfile,
): number[] {
  const kinds = bands.flatMap(({ types, count, atHz }, group) =>
    Array.from({ length: count }, () => (atHz ? `fixed ${group}` : [...types].sort().join())),
  );
  const inOrder = [...places];
  for (const kind of new Set(kinds.filter((name) => !name.startsWith('fixed')))) {
    const held = places.flatMap((slot, filter) => (kinds[slot] === kind ? [filter] : []));
    const slots = held.map((filter) => places[filter]!).sort((a, b) => a - b);
    held
      .sort((a, b) => filters[a]!.frequencyHz - filters[b]!.frequencyHz)
      .forEach((filter, k) => {
        inOrder[filter] = slots[k]!;
      });
  }
  return inOrder;
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
