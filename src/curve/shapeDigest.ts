import { fingerprint } from '../elementary/fingerprint.js';
import type { Curve } from './curve.js';

/** No number of up to ten decimals lies half-way between two steps, where the last bit of a difference would decide. */
const STEPS = 1024;

/**
 * Eight digits that tell a measured curve from another, its level left out, in hertz and dB to a thousandth: the same
 * whatever the file's separators, units and order, and where all levels are higher by a constant.
 */
export function shapeDigest({ frequencyHz, levelDb }: Curve): string {
  const step = (value: number) => Math.round(value * STEPS) + 0;
  return fingerprint(
    Array.from(frequencyHz, (hz, i) => `${step(hz)} ${step(levelDb[i]! - levelDb[0]!)}`).join('\n'),
  );
}
