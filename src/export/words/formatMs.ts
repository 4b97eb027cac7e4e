/** `timeS` in milliseconds, for reading: "3.51 ms". */
export function formatMs(timeS: number): string {
  return `${Number((timeS * 1000).toPrecision(3))} ms`;
}
