import { fingerprint } from '../elementary/fingerprint.js';
import type { Curve } from './curve.js';

/** Eight digits that tell one list of frequencies and levels from another, however the file of it is written. */
export function curveDigest({ frequencyHz, levelDb }: Curve): string {
  return fingerprint(Array.from(frequencyHz, (hz, i) => `${hz} ${levelDb[i]! + 0}`).join('\n'));
}
