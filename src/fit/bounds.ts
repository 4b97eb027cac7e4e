import { type Bands, PEAKING } from './bands.js';
import type { FitLimits } from './fitProblem.js';

type Ends = readonly [number, number, number];

/** Lower and upper ends of ln f, gain and ln Q, in that order, the same for every band of a kind. */
export interface Bounds {
  readonly lower: Ends;
  readonly peakingUpper: Ends;
  readonly shelfUpper: Ends;
}

export function boundsOf(limits: FitLimits): Bounds {
  const upper = (q: number): Ends => [Math.log(limits.maxFrequencyHz), limits.maxBoostDb, Math.log(q)];
  return {
    lower: [Math.log(limits.minFrequencyHz), -limits.maxCutDb, Math.log(limits.minQ)],
    peakingUpper: upper(limits.maxQ),
    shelfUpper: upper(Math.max(limits.minQ, Math.min(limits.maxQ, limits.maxShelfQ))),
  };
}

/** Lower end of the free number `j` of a bank with these types. */
export function lowerBound(bounds: Bounds, j: number): number {
  return bounds.lower[(j % 3) as 0 | 1 | 2];
}

export function upperBound(bounds: Bounds, types: Uint8Array, j: number): number {
  const peaking = types[(j / 3) | 0] === PEAKING;
  return (peaking ? bounds.peakingUpper : bounds.shelfUpper)[(j % 3) as 0 | 1 | 2];
}

export function clampToBounds(value: number, bounds: Bounds, types: Uint8Array, j: number): number {
  return Math.min(Math.max(value, lowerBound(bounds, j)), upperBound(bounds, types, j));
}

/** Names the numbers of a bank that lie on a bound, as `filters[2].gainDb at max`. */
export function boundsReached({ types, values }: Bands, bounds: Bounds): string[] {
  const names = ['frequencyHz', 'gainDb', 'q'];
  return Array.from(values).flatMap((value, j) => {
    const atMax = value >= upperBound(bounds, types, j) - 1e-6;
    const atMin = value <= lowerBound(bounds, j) + 1e-6;
    const end = atMax ? 'max' : atMin ? 'min' : '';
    return end === '' ? [] : [`filters[${Math.floor(j / 3)}].${names[j % 3]} at ${end}`];
  });
}
