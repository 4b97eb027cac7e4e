import { log } from '../elementary/logarithm.js';
import type { Curve } from './curve.js';
import { lowerIndex } from './lowerIndex.js';

/** Level in dB at `hz`, linear in dB over log frequency; outside the data the end value is held. */
export function interpolateLevel(curve: Curve, hz: number): number {
  const { frequencyHz, levelDb } = curve;
  const last = frequencyHz.length - 1;
  const i = lowerIndex(frequencyHz, hz);
  if (i < 0) return levelDb[0]!;
  if (i >= last) return levelDb[last]!;
  const t = log(hz / frequencyHz[i]!) / log(frequencyHz[i + 1]! / frequencyHz[i]!);
  return levelDb[i]! + t * (levelDb[i + 1]! - levelDb[i]!);
}
