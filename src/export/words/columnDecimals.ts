import { fixedDecimals } from './fixedDecimals.js';

/**
 * A column of numbers, all with as many decimals as the one that needs most of them, at most `maxDecimals`,
 * so that the points stand beneath each other and nothing that the design holds is lost.
 */
export function columnDecimals(values: readonly number[], maxDecimals: number): string[] {
  const needed = values.map((value) => {
    for (let decimals = 0; decimals < maxDecimals; decimals += 1) {
      // To 1e-12: what is left of a rounding in binary is no digit of the design.
      if (Math.abs(Number(value.toFixed(decimals)) - value) <= 1e-12 * Math.abs(value)) return decimals;
    }
    return maxDecimals;
  });
  const decimals = Math.max(0, ...needed);
  return values.map((value) => fixedDecimals(value, decimals));
}
