import { exp, pow2 } from './exponential.js';
import { log } from './logarithm.js';
import { wholePower } from './wholePower.js';

/** Whole exponents up to this are multiplied out. */
const MULTIPLIED_OUT = 64;

/** xʸ. */
export function pow(x: number, y: number): number {
  if (Number.isInteger(y) && Math.abs(y) <= MULTIPLIED_OUT) return wholePower(x, y);
  if (x === 2) return pow2(y);
  return exp(y * log(x));
}

/** 10ˣ. */
export function pow10(x: number): number {
  if (Number.isInteger(x) && Math.abs(x) <= 308) return wholePower(10, x);
  return exp(x * Math.LN10);
}

/** ∛x. */
export function cbrt(x: number): number {
  const a = Math.abs(x);
  if (!(a > 0 && a < Number.POSITIVE_INFINITY)) return x;
  const near = exp(log(a) / 3);
  const value = near - (near - a / (near * near)) / 3;
  return x < 0 ? -value : value;
}

const GREAT = 1e150;
const SMALL = 1e-150;

/** √(a² + b² + c²). */
export function hypot(a: number, b: number, c = 0): number {
  const greatest = Math.max(Math.abs(a), Math.abs(b), Math.abs(c));
  if (greatest < GREAT && greatest > SMALL) return Math.sqrt(a * a + b * b + c * c);
  if (greatest === 0 || greatest === Number.POSITIVE_INFINITY) return greatest;
  const [x, y, z] = [a / greatest, b / greatest, c / greatest];
  return greatest * Math.sqrt(x * x + y * y + z * z);
}
