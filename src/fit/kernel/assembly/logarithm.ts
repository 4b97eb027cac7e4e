import { BIAS_AT_2_52, LN2_HIGH, LN2_LOW } from './constants';
import { add, both, div, mul, sub } from './pairs';

// What the upper half of a number's bits lacks, from a fraction of √2 on, to carry into the exponent.
const TO_ROOT_TWO: i64 = 0x95f61 << 32;
/** 2⁵² in bits: or-ed with a small whole number, the number 2⁵² + that. */
const TWO_TO_52: i64 = 0x433 << 52;

/** The natural logarithms of two ordinary numbers, in the steps of src/elementary/logarithm.ts. */
export function log(x: v128): v128 {
  const biased = i64x2.shr_u(i64x2.add(x, i64x2.splat(TO_ROOT_TWO)), 52);
  const k = sub(v128.or(biased, i64x2.splat(TWO_TO_52)), both(BIAS_AT_2_52));
  const mantissa = i64x2.sub(x, i64x2.shl(i64x2.sub(biased, i64x2.splat(1023)), 52));
  const series = twiceArtanh(div(sub(mantissa, both(1)), add(mantissa, both(1))));
  return add(mul(k, both(LN2_HIGH)), add(mul(k, both(LN2_LOW)), series));
}

function twiceArtanh(s: v128): v128 {
  const z = mul(s, s);
  const z2 = mul(z, z);
  const z4 = mul(z2, z2);
  const low = four(z, z2, 1.0 / 3, 1.0 / 5, 1.0 / 7, 1.0 / 9);
  const middle = four(z, z2, 1.0 / 11, 1.0 / 13, 1.0 / 15, 1.0 / 17);
  const high = add(add(both(1.0 / 19), mul(z, both(1.0 / 21))), mul(z2, both(1.0 / 23)));
  const rest = add(low, mul(z4, add(middle, mul(z4, high))));
  return mul(both(2), add(s, mul(mul(s, z), rest)));
}

/** a + b z + c z² + d z³. */
function four(z: v128, z2: v128, a: f64, b: f64, c: f64, d: f64): v128 {
  return add(add(both(a), mul(z, both(b))), mul(z2, add(both(c), mul(z, both(d)))));
}
