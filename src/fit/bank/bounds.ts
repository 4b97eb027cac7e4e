import { exp } from '../../elementary/exponential.js';
import { log, log10 } from '../../elementary/logarithm.js';
import { pow10 } from '../../elementary/power.js';
import type { FilterType } from '../../filter/filter.js';
import type { FitLimits, QEnds, QSetting, WideBoosts } from '../problem/fitProblem.js';
import { type Bands, PEAKING } from './bands.js';
import { type LnQEnds, qBySetting } from './qBySetting.js';
import { isHeldBroad } from './wideBoosts.js';

type Ends = readonly [number, number, number];

/** Lower and upper ends of ln f, gain and ln Q, in that order, the same for every band of a kind. */
export interface Bounds {
  /** Draws the ends of ln Q in by the frequency and gain of a band. */
  readonly qSetting?: QSetting;
  readonly wideBoosts?: WideBoosts;
  readonly peakingLower: Ends;
  readonly shelfLower: Ends;
  readonly peakingUpper: Ends;
  readonly shelfUpper: Ends;
}

/** The ends for bands of a type, as in `Bands`. */
export function endsOf(bounds: Bounds, type: number): { readonly lower: Ends; readonly upper: Ends } {
  return type === PEAKING
    ? { lower: bounds.peakingLower, upper: bounds.peakingUpper }
    : { lower: bounds.shelfLower, upper: bounds.shelfUpper };
}

/** The ends of the Q of a type. */
export function qEnds({ minQ, maxQ, maxShelfQ, shelfQ }: FitLimits, type: FilterType): QEnds {
  if (type === 'peaking') return { min: minQ, max: maxQ };
  return shelfQ ?? { min: minQ, max: Math.max(minQ, Math.min(maxQ, maxShelfQ)) };
}

/** The limits, drawn in to numbers that rounding (see roundBands.ts) cannot carry over them. */
export function boundsOf(limits: FitLimits): Bounds {
  const frequency = drawnIn(limits.minFrequencyHz, limits.maxFrequencyHz);
  const gain = drawnIn(-limits.maxCutDb, limits.maxBoostDb, () => 0.001);
  const q = drawnIn(limits.minQ, limits.maxQ);
  const shelves = qEnds(limits, 'lowShelf');
  const shelfQ = drawnIn(shelves.min, shelves.max);
  const ends = (end: 0 | 1, limitOfQ: number): Ends => [log(frequency[end]), gain[end], log(limitOfQ)];
  return {
    ...(limits.qSetting && { qSetting: limits.qSetting }),
    ...(limits.wideBoosts && { wideBoosts: limits.wideBoosts }),
    peakingLower: ends(0, q[0]),
    shelfLower: ends(0, shelfQ[0]),
    peakingUpper: ends(1, q[1]),
    shelfUpper: ends(1, shelfQ[1]),
  };
}

/** The lower end rounded up and the upper one down, unless nothing would be left between them. */
function drawnIn(lower: number, upper: number, step = fiveFigures): readonly [number, number] {
  const rounded = (value: number, toward: (x: number) => number) => {
    const steps = value / step(value);
    const whole = Math.round(steps);
    // What is a whole number of steps but for the last digit stays.
    return Math.abs(steps - whole) < 1e-6 ? value : Number((toward(steps) * step(value)).toPrecision(12));
  };
  const inside = [rounded(lower, Math.ceil), rounded(upper, Math.floor)] as const;
  return inside[0] <= inside[1] ? inside : [lower, upper];
}

function fiveFigures(value: number): number {
  return pow10(Math.floor(log10(value)) - 4);
}

/** Lower end of the free number `j` of a bank, that of a Q by the frequency and gain before it. */
export function lowerBound(bounds: Bounds, bands: Bands, j: number): number {
  return endOf(bounds, bands, j, 0);
}

export function upperBound(bounds: Bounds, bands: Bands, j: number): number {
  return endOf(bounds, bands, j, 1);
}

function endOf(
  bounds: Bounds,
  bands: Bands,
  j: number,
  end: 0 | 1,
  settable = settableAt(bounds, bands, j),
): number {
  const number = (j % 3) as 0 | 1 | 2;
  const { lower, upper } = endsOf(bounds, bands.types[(j / 3) | 0]!);
  if (settable) return Math.min(Math.max(settable[end], lower[number]), upper[number]);
  return (end === 0 ? lower : upper)[number];
}

/** The ends of what the number `j` may be, where that hangs on the frequency and gain before it. */
function settableAt(
  { qSetting, wideBoosts }: Bounds,
  { types, values }: Bands,
  j: number,
): LnQEnds | undefined {
  if (j % 3 !== 2 || !(qSetting || wideBoosts)) return undefined;
  const type = types[(j / 3) | 0]!;
  const set = qSetting && qBySetting(qSetting, type, values[j - 2]!, values[j - 1]!);
  if (!wideBoosts || !isHeldBroad(wideBoosts, type, exp(values[j - 2]!), values[j - 1]!)) return set;
  const [least, most] = set ?? [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  return [least, Math.max(least, Math.min(most, log(wideBoosts.maxQ)))];
}

/** Whether the Q of a band goes as far as its frequency and gain let it. */
export function hasHangingQ({ qSetting, wideBoosts }: Bounds): boolean {
  return qSetting !== undefined || wideBoosts !== undefined;
}

/** A value for the free number `j` brought within its bounds; those before it in the band are in `bands`. */
export function clampToBounds(value: number, bounds: Bounds, bands: Bands, j: number): number {
  const settable = settableAt(bounds, bands, j);
  const most = endOf(bounds, bands, j, 1, settable);
  return Math.min(Math.max(value, endOf(bounds, bands, j, 0, settable)), most);
}

/** All numbers of a bank brought within their bounds. */
export function clampBands({ types, values }: Bands, bounds: Bounds): Bands {
  const clamped = { types, values: values.slice() };
  for (let j = 0; j < values.length; j++) clamped.values[j] = clampToBounds(values[j]!, bounds, clamped, j);
  return clamped;
}

export function isWithin(bands: Bands, bounds: Bounds): boolean {
  return clampBands(bands, bounds).values.every((value, j) => value === bands.values[j]);
}

/** The ends of all numbers of a bank, one after the other; of a Q that hangs on frequency and gain, those it never leaves. */
export interface EndsAlong {
  readonly lower: Float64Array;
  readonly upper: Float64Array;
}

export function endsAlong(bounds: Bounds, types: Uint8Array): EndsAlong {
  const lower = new Float64Array(3 * types.length);
  const upper = new Float64Array(3 * types.length);
  for (let i = 0; i < types.length; i++) {
    const ends = endsOf(bounds, types[i]!);
    for (let number = 0; number < 3; number++) {
      lower[3 * i + number] = ends.lower[number]!;
      upper[3 * i + number] = ends.upper[number]!;
    }
  }
  return { lower, upper };
}

/** Names the numbers of a bank that lie on a bound, as `filters[2].gainDb at max`. */
export function boundsReached(bands: Bands, bounds: Bounds): string[] {
  const names = ['frequencyHz', 'gainDb', 'q'];
  return Array.from(bands.values).flatMap((value, j) => {
    const atMax = value >= upperBound(bounds, bands, j) - 1e-6;
    const atMin = value <= lowerBound(bounds, bands, j) + 1e-6;
    const end = atMax ? 'max' : atMin ? 'min' : '';
    return end === '' ? [] : [`filters[${Math.floor(j / 3)}].${names[j % 3]} at ${end}`];
  });
}
