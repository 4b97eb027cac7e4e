import { exp } from '../../elementary/exponential.js';
import { log } from '../../elementary/logarithm.js';
import { conventionFor } from '../../filter/qConventions.js';
import type { QSetting } from '../problem/fitProblem.js';
import { typeName } from './bands.js';

/** Natural logarithms of the least and the greatest Q of a band. */
export type LnQEnds = readonly [number, number];

const INSIDE = 1e-9;

/**
 * How far the Q of a band goes, where what is set for it means another Q at another frequency or gain.
 *
 * @returns undefined where no such band can be set
 */
export function qBySetting(
  { convention: name, min, max, sampleRateHz }: QSetting,
  type: number,
  lnF: number,
  gainDb: number,
): LnQEnds | undefined {
  const shape = { type: typeName(type), frequencyHz: exp(lnF), gainDb };
  const convention = conventionFor(name, shape.type);
  const possible = convention.range(shape, sampleRateHz);
  if (!possible) return undefined;
  const least = Math.max(min, possible.min * (1 + INSIDE));
  const most = Math.min(max, possible.max * (1 - INSIDE));
  if (least > most) return undefined;
  const a = log(convention.toCookbookQ(least, shape, sampleRateHz));
  const b = log(convention.toCookbookQ(most, shape, sampleRateHz));
  return a < b ? [a, b] : [b, a];
}
