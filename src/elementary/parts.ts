// The parts of a floating-point number (IEEE 754): how often 2 goes into it, and what is left.

const number = new Float64Array(1);
const halves = new Int32Array(number.buffer);
const HIGH = new Uint8Array(Uint16Array.of(1).buffer)[0] === 1 ? 1 : 0;
/** High half of the fraction of √2. */
const ROOT_TWO = 0x6a09e;
const SMALLEST_NORMAL = 2.2250738585072014e-308;

const LEAST = -1074;
const powers = new Float64Array(1024 - LEAST);
powers[0] = Number.MIN_VALUE;
for (let i = 1; i < powers.length; i++) powers[i] = 2 * powers[i - 1]!;

/** The k that leaves a mantissa x·2⁻ᵏ from √½ to √2; for finite numbers above zero. */
export function exponentOf(x: number): number {
  if (x < SMALLEST_NORMAL) return exponentOf(x * 2 ** 54) - 54;
  number[0] = x;
  const high = halves[HIGH]!;
  return (high >> 20) - 1023 + ((high & 0xfffff) > ROOT_TWO ? 1 : 0);
}

/** x·2ᵏ for a whole number k from −1128 to 1128; one step beyond what a number can hold it is taken in two. */
export function timesPowerOfTwo(x: number, k: number): number {
  if (k > 1023) return x * powers[1023 - LEAST]! * powers[k - 1023 - LEAST]!;
  if (k < LEAST) return x * powers[k + 54 - LEAST]! * 2 ** -54;
  return x * powers[k - LEAST]!;
}
