/** Place of the value nearest to `x` in a list, measured on a scale of one's own. */
export function nearestPlace(
  values: readonly number[],
  x: number,
  scale: (value: number) => number = (value) => value,
): number {
  let place = 0;
  const at = scale(x);
  let least = Number.POSITIVE_INFINITY;
  values.forEach((value, i) => {
    const distance = Math.abs(scale(value) - at);
    if (distance < least) {
      least = distance;
      place = i;
    }
  });
  return place;
}
