import { HALF_PI_1, HALF_PI_2, HALF_PI_3 } from './constants.js';

const TWO_OVER_PI = 2 / Math.PI;
/** Products of whole numbers up to this and the parts of π/2 are exact. */
const EXACT = 2 ** 20;

/** x − k·π/2, small; within 10⁻¹⁶ up to some 10¹² (two parts of π/2 of 33 bits and a third; Cody and Waite's reduction). */
function rest(x: number, k: number): number {
  if (Math.abs(k) < EXACT) return x - k * HALF_PI_1 - k * HALF_PI_2 - k * HALF_PI_3;
  const many = Math.round(k / EXACT) * EXACT;
  const few = k - many;
  return x - many * HALF_PI_1 - few * HALF_PI_1 - many * HALF_PI_2 - few * HALF_PI_2 - k * HALF_PI_3;
}

// Taylor's series (DLMF 4.19.1 and 4.19.2), to the last digit for |r| ≤ π/4. Summed in pairs and pairs of pairs, so that the
// processor need not wait for one term before the next.
function sineNearZero(r: number): number {
  const z = r * r;
  const z2 = z * z;
  const low = -1 / 6 + z * (1 / 120) + z2 * (-1 / 5040 + z * (1 / 362_880));
  const high =
    -1 / 39_916_800 + z * (1 / 6_227_020_800) + z2 * (-1 / 1_307_674_368_000 + z * (1 / 355_687_428_096_000));
  return r + r * z * (low + z2 * z2 * high);
}

function cosineNearZero(r: number): number {
  const z = r * r;
  const z2 = z * z;
  const low = 1 / 24 + z * (-1 / 720) + z2 * (1 / 40_320 + z * (-1 / 3_628_800));
  const high = 1 / 479_001_600 + z * (-1 / 87_178_291_200) + z2 * (1 / 20_922_789_888_000);
  const half = 0.5 * z;
  const near = 1 - half;
  return near + (1 - near - half + z2 * (low + z2 * z2 * high));
}

function sineOfQuarter(r: number, quarter: number): number {
  if (quarter === 0) return sineNearZero(r);
  if (quarter === 1) return cosineNearZero(r);
  return quarter === 2 ? -sineNearZero(r) : -cosineNearZero(r);
}

const fourth = (k: number): number => k - 4 * Math.floor(k / 4);

/** The sine of x in radians. */
export function sin(x: number): number {
  if (Math.abs(x) < 1e-8) return x;
  const k = Math.round(x * TWO_OVER_PI);
  return sineOfQuarter(rest(x, k), fourth(k));
}

/** The cosine of x in radians. */
export function cos(x: number): number {
  const k = Math.round(x * TWO_OVER_PI);
  return sineOfQuarter(rest(x, k), fourth(k + 1));
}

/** The tangent of x in radians. */
export function tan(x: number): number {
  if (Math.abs(x) < 1e-8) return x;
  // No `Math.round`: its twin in fit/kernel/assembly has only this.
  const k = Math.floor(x * TWO_OVER_PI + 0.5);
  const r = rest(x, k);
  return fourth(k) % 2 === 0 ? sineNearZero(r) / cosineNearZero(r) : -cosineNearZero(r) / sineNearZero(r);
}
