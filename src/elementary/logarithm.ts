import { LN2_HIGH, LN2_LOW } from './constants.js';
import { exponentOf, timesPowerOfTwo } from './parts.js';
import { wholePower } from './wholePower.js';

const LOG10_OF_2 = 0.3010299956639812;

/**
 * 2·artanh s = 2·Σ s²ⁿ⁺¹/(2n + 1) (DLMF 4.38.5), to the last digit for |s| ≤ 0.18. Summed in pairs and pairs of pairs, so that
 * the processor need not wait for one term before the next.
 */
function twiceArtanh(s: number): number {
  const z = s * s;
  const z2 = z * z;
  const z4 = z2 * z2;
  const low = 1 / 3 + z * (1 / 5) + z2 * (1 / 7 + z * (1 / 9));
  const middle = 1 / 11 + z * (1 / 13) + z2 * (1 / 15 + z * (1 / 17));
  const high = 1 / 19 + z * (1 / 21) + z2 * (1 / 23);
  return 2 * (s + s * z * (low + z4 * (middle + z4 * high)));
}

/** The natural logarithm of x·2⁻ᵏ. */
function logOfMantissa(x: number, k: number): number {
  const m = timesPowerOfTwo(x, -k);
  return twiceArtanh((m - 1) / (m + 1));
}

/** What the logarithms of all but finite numbers above zero are. */
const atTheEnds = (x: number): number =>
  x === 0 ? Number.NEGATIVE_INFINITY : x > 0 ? Number.POSITIVE_INFINITY : Number.NaN;

const isOrdinary = (x: number): boolean => x > 0 && x < Number.POSITIVE_INFINITY;

/** The natural logarithm. */
export function log(x: number): number {
  if (!isOrdinary(x)) return atTheEnds(x);
  const k = exponentOf(x);
  return k * LN2_HIGH + (k * LN2_LOW + logOfMantissa(x, k));
}

/** The logarithm to base 2; whole where x is a power of two. */
export function log2(x: number): number {
  if (!isOrdinary(x)) return atTheEnds(x);
  const k = exponentOf(x);
  return k + logOfMantissa(x, k) * Math.LOG2E;
}

/** The logarithm to base 10; whole where x is the number nearest to a power of ten. */
export function log10(x: number): number {
  if (!isOrdinary(x)) return atTheEnds(x);
  const k = exponentOf(x);
  const value = k * LOG10_OF_2 + logOfMantissa(x, k) * Math.LOG10E;
  const whole = Math.round(value);
  return Math.abs(value - whole) < 1e-13 && wholePower(10, whole) === x ? whole : value;
}

/** ln(1 + x), as near where x is small. */
export function log1p(x: number): number {
  return Math.abs(x) < 0.4 ? twiceArtanh(x / (2 + x)) : log(1 + x);
}

/** The inverse of sinh. */
export function asinh(x: number): number {
  const a = Math.abs(x);
  const value = a > 1e150 ? log(a) + Math.LN2 : log1p(a + (a * a) / (1 + Math.sqrt(1 + a * a)));
  return x < 0 ? -value : value;
}
