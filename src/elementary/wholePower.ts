/** xⁿ for a whole number n, multiplied out. */
export function wholePower(x: number, n: number): number {
  let value = 1;
  let factor = x;
  for (let left = Math.abs(n); left > 0; left = Math.floor(left / 2)) {
    if (left % 2 === 1) value *= factor;
    factor *= factor;
  }
  return n < 0 ? 1 / value : value;
}
