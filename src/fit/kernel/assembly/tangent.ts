/** The tangent of x from 0 to below π, in the steps of src/elementary/sine.ts. */
export function tan(x: f64): f64 {
  if (x < 1e-8) return x;
  const k = floor(x * (2 / Math.PI) + 0.5);
  const r = x - k * 1.5707963267341256 - k * 6.077100506303966e-11 - k * 2.0222662487959506e-21;
  return (<i32>k & 1) === 0 ? sineNearZero(r) / cosineNearZero(r) : -cosineNearZero(r) / sineNearZero(r);
}

function sineNearZero(r: f64): f64 {
  const z = r * r;
  const z2 = z * z;
  const low = -1.0 / 6 + z * (1.0 / 120) + z2 * (-1.0 / 5040 + z * (1.0 / 362880));
  const high =
    -1.0 / 39916800 + z * (1.0 / 6227020800) + z2 * (-1.0 / 1307674368000 + z * (1.0 / 355687428096000));
  return r + r * z * (low + z2 * z2 * high);
}

function cosineNearZero(r: f64): f64 {
  const z = r * r;
  const z2 = z * z;
  const low = 1.0 / 24 + z * (-1.0 / 720) + z2 * (1.0 / 40320 + z * (-1.0 / 3628800));
  const high = 1.0 / 479001600 + z * (-1.0 / 87178291200) + z2 * (1.0 / 20922789888000);
  const half = 0.5 * z;
  const near = 1 - half;
  return near + (1 - near - half + z2 * (low + z2 * z2 * high));
}
