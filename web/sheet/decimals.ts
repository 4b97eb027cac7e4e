import { fixedDecimals } from '../../src/export/words/fixedDecimals.js';

/** A number with as many decimals as it needs, from `least` to `most` of them. */
export function decimals(value: number, least: number, most: number): string {
  for (let places = least; places < most; places++) {
    const text = fixedDecimals(value, places);
    if (Math.abs(Number(text) - value) <= 1e-9) return text;
  }
  return fixedDecimals(value, most);
}
