import { BIAS_AT_2_52, LN2_HIGH, LN2_LOW } from './constants';
import { add, both, div, mul, sub } from './pairs';

/** eˣ of two moderate numbers, in the steps of src/elementary/exponential.ts. */
export function exp(x: v128): v128 {
  const k = f64x2.floor(add(mul(x, both(Math.LOG2E)), both(0.5)));
  const high = sub(x, mul(k, both(LN2_HIGH)));
  const low = mul(k, both(LN2_LOW));
  const r = sub(high, low);
  const c = bend(r);
  const rest = sub(sub(low, div(mul(r, c), sub(both(2), c))), high);
  return mul(sub(both(1), rest), powerOfTwo(k));
}

/** r − (r·coth(r/2) − 2). */
function bend(r: v128): v128 {
  const z = mul(r, r);
  const z2 = mul(z, z);
  const low = add(
    add(both(1.0 / 6), mul(z, both(-1.0 / 360))),
    mul(z2, add(both(1.0 / 15120), mul(z, both(-1.0 / 604800)))),
  );
  const high = add(
    add(both(1.0 / 23950080), mul(z, both(-691.0 / 653837184000))),
    mul(z2, both(1.0 / 37362124800)),
  );
  return sub(r, mul(z, add(low, mul(mul(z2, z2), high))));
}

function powerOfTwo(k: v128): v128 {
  return i64x2.shl(add(k, both(BIAS_AT_2_52)), 52);
}
