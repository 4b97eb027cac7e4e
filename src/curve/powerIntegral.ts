import { exp, sinh } from '../elementary/exponential.js';
import { log } from '../elementary/logarithm.js';

const NEPER_POWER_PER_DB = Math.LN10 / 10;

/** Power of a level: 10^(dB/10). */
export function powerOfDb(db: number): number {
  return exp(db * NEPER_POWER_PER_DB);
}

/** Level of a power: 10·lg. */
export function dbOfPower(power: number): number {
  return log(power) / NEPER_POWER_PER_DB;
}

/**
 * Integral of the power 10^(L/10) over a stretch of `width` in which the level L runs straight from
 * `startDb` to `endDb`. In closed form the mean is the logarithmic mean of the two end powers,
 * (P₂ − P₁)/ln(P₂/P₁) = √(P₁P₂)·sinh(u)/u with u = ln(P₂/P₁)/2; the second form has no 0/0 worth the name.
 */
export function powerIntegral(startDb: number, endDb: number, width: number): number {
  const u = ((endDb - startDb) * NEPER_POWER_PER_DB) / 2;
  const u2 = u * u;
  const sinhc = Math.abs(u) < 0.03 ? 1 + (u2 / 6) * (1 + u2 / 20) : sinh(u) / u;
  return width * powerOfDb((startDb + endDb) / 2) * sinhc;
}
