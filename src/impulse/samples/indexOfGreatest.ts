/** Where the absolute value is greatest; the first of equal ones. */
export function indexOfGreatest(values: Float64Array): number {
  let best = 0;
  for (let i = 1; i < values.length; i++) if (Math.abs(values[i]!) > Math.abs(values[best]!)) best = i;
  return best;
}
