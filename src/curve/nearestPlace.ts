/** Place of the value nearest to `x` in a list, measured on a scale of one's own. */
export function nearestPlace(
  values: ArrayLike<number>,
  x: number,
  scale: (value: number) => number = (value) => value,
): number {
  let place = 0;
  const at = scale(x);
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < values.length; i++) {
    const distance = Math.abs(scale(values[i]!) - at);
    if (distance < least) {
      least = distance;
      place = i;
    }
  }
  return place;
}
