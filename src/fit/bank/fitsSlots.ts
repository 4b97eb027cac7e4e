/**
 * Whether each band can have a slot of its own. By Hall's theorem: for every set of types no more bands have a type
 * of the set than there are slots that take one of them.
 *
 * @param types of the bands, 0 to 2
 * @param slots of each slot, the types that it takes
 */
export function fitsSlots(types: Iterable<number>, slots: readonly (readonly number[])[]): boolean {
  const held = Array.from(types);
  for (let set = 1; set < 8; set++) {
    const inSet = (type: number) => (set >> type) & 1;
    if (held.filter(inSet).length > slots.filter((slot) => slot.some(inSet)).length) return false;
  }
  return true;
}
