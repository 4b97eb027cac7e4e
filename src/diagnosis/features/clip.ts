/** `x`, kept between `low` and `high`. */
export function clip(x: number, low: number, high: number): number {
  return Math.min(high, Math.max(low, x));
}
