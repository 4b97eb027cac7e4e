/**
 * A level in dB with one decimal, rounded by way of the hundredths that a finding is written down with, so that
 * headings, evidence and warnings show the same figure.
 */
export function tenths(levelDb: number): string {
  return (Math.round(levelDb * 100) / 100).toFixed(1);
}
