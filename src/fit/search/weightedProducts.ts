/**
 * A curve in dB in such a form that plain products are products over the range: times the root of the weight, which sums to 1,
 * and about the weighted mean where the level is free.
 */
export function weighted(db: Float64Array, weight: Float64Array, levelFree: boolean): Float64Array {
  let mean = 0;
  if (levelFree) for (let p = 0; p < db.length; p++) mean += weight[p]! * db[p]!;
  return db.map((value, p) => Math.sqrt(weight[p]!) * (value - mean));
}

/** Σ a[atA + p] · b[atB + p]; four sums at a time keep the processor from waiting for one. */
export function product(a: Float64Array, atA: number, b: Float64Array, atB: number, count: number): number {
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let p = 0;
  for (; p + 3 < count; p += 4) {
    s0 += a[atA + p]! * b[atB + p]!;
    s1 += a[atA + p + 1]! * b[atB + p + 1]!;
    s2 += a[atA + p + 2]! * b[atB + p + 2]!;
    s3 += a[atA + p + 3]! * b[atB + p + 3]!;
  }
  for (; p < count; p++) s0 += a[atA + p]! * b[atB + p]!;
  return s0 + s1 + s2 + s3;
}
