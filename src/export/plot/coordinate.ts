/** A drawing coordinate to a tenth of a unit: small files, and the same bytes everywhere. */
export function coordinate(value: number): number {
  return Math.round(value * 10) / 10 + 0;
}
