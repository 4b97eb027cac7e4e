import type { Bands } from './bands.js';
import type { FitLimits } from './fitProblem.js';

/** Lower and upper ends of ln f, gain and ln Q, in that order, the same for every band. */
export interface Bounds {
  readonly lower: readonly [number, number, number];
  readonly upper: readonly [number, number, number];
}

export function boundsOf(limits: FitLimits): Bounds {
  return {
    lower: [Math.log(limits.minFrequencyHz), -limits.maxCutDb, Math.log(limits.minQ)],
    upper: [Math.log(limits.maxFrequencyHz), limits.maxBoostDb, Math.log(limits.maxQ)],
  };
}

export function clampToBounds(value: number, j: number, { lower, upper }: Bounds): number {
  return Math.min(Math.max(value, lower[j % 3]!), upper[j % 3]!);
}

/** Names the numbers of a bank that lie on a bound, as `filters[2].gainDb at max`. */
export function boundsReached(bands: Bands, { lower, upper }: Bounds): string[] {
  const names = ['frequencyHz', 'gainDb', 'q'];
  return Array.from(bands.values).flatMap((value, j) => {
    const end = value >= upper[j % 3]! - 1e-6 ? 'max' : value <= lower[j % 3]! + 1e-6 ? 'min' : '';
    return end === '' ? [] : [`filters[${Math.floor(j / 3)}].${names[j % 3]} at ${end}`];
  });
}
