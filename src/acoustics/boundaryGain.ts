import { log10 } from '../elementary/logarithm.js';
import { sin } from '../elementary/sine.js';

/**
 * Power radiated by a small source near one, two or three mutually perpendicular rigid planes, over that in free
 * field, in dB. With j(u) = sin u/u and u = 2k·d summed over every set of planes, d being the distance to the image
 * in all planes of the set at once: 1 + Σ j(2k·√(Σ x²)) (Waterhouse 1955, Allison 1974). Against the planes it is
 * +3, +6, +9 dB; the pressure at a given distance rises by twice that.
 *
 * `distancesM` has one to three distances; with none the gain is 0 dB.
 */
export function boundaryPowerDb(
  frequencyHz: number,
  distancesM: readonly number[],
  speedOfSoundMs: number,
): number {
  const twoK = (4 * Math.PI * frequencyHz) / speedOfSoundMs;
  let power = 0;
  for (let set = 0; set < 1 << distancesM.length; set++) {
    const squaredM2 = distancesM.reduce((sum, x, i) => (set & (1 << i) ? sum + x * x : sum), 0);
    power += sinc(twoK * Math.sqrt(squaredM2));
  }
  return 10 * log10(power);
}

/** Low-frequency limits in dB for a source close against `planes` planes. */
export function boundaryLimitDb(planes: 0 | 1 | 2 | 3): { powerDb: number; pressureDb: number } {
  const powerDb = 10 * planes * log10(2);
  return { powerDb, pressureDb: 2 * powerDb };
}

function sinc(u: number): number {
  return Math.abs(u) < 1e-8 ? 1 : sin(u) / u;
}
