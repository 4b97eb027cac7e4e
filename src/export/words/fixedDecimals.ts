/** `toFixed` that never writes a minus before zero. */
export function fixedDecimals(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? text.replace('-', '') : text;
}
