import { PI_LOW } from './constants.js';

/** Σ (−1)ⁿ·t²ⁿ⁺¹/(2n + 1) (DLMF 4.24.3), to the last digit for |t| ≤ 0.2. */
function nearZero(t: number): number {
  const z = t * t;
  const z2 = z * z;
  const z4 = z2 * z2;
  const low = -1 / 3 + z * (1 / 5) + z2 * (-1 / 7 + z * (1 / 9));
  const middle = -1 / 11 + z * (1 / 13) + z2 * (-1 / 15 + z * (1 / 17));
  const high = -1 / 19 + z * (1 / 21) + z2 * (-1 / 23);
  return t + t * z * (low + z4 * (middle + z4 * high));
}

/** atan x = 2·atan(x/(1 + √(1 + x²))). */
const halved = (x: number): number => x / (1 + Math.sqrt(1 + x * x));

function ofPositive(x: number): number {
  if (x <= 0.2) return nearZero(x);
  if (x <= 0.41) return 2 * nearZero(halved(x));
  if (x <= 1) return 4 * nearZero(halved(halved(x)));
  return Math.PI / 2 - (ofPositive(1 / x) - PI_LOW / 2);
}

/** The angle in radians whose tangent is x, from −π/2 to π/2. */
export const atan = (x: number): number => (x < 0 ? -ofPositive(-x) : x > 0 ? ofPositive(x) : x);

/** The angle in radians from the x axis to the point (x, y), from −π to π. */
export function atan2(y: number, x: number): number {
  if (Number.isNaN(x) || Number.isNaN(y)) return Number.NaN;
  const below = y < 0 || Object.is(y, -0);
  const behind = x < 0 || Object.is(x, -0);
  const angle = angleOf(Math.abs(y), Math.abs(x));
  const turned = behind ? Math.PI - (angle - PI_LOW) : angle;
  return below ? -turned : turned;
}

function angleOf(up: number, along: number): number {
  if (up === 0) return 0;
  if (up === Number.POSITIVE_INFINITY && along === up) return Math.PI / 4;
  return ofPositive(up / along);
}

/** The angle in radians whose cosine is x, from 0 to π; NaN outside −1 to 1. */
export const acos = (x: number): number => 2 * atan2(Math.sqrt(1 - x), Math.sqrt(1 + x));
