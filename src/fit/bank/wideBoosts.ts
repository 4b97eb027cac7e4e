import type { Filter } from '../../filter/filter.js';
import type { FitLimits, WideBoosts } from '../problem/fitProblem.js';
import { PEAKING, typeCode } from './bands.js';

/** Whether a band stands where it may boost broadly only, and boosts. */
export function isHeldBroad(
  { spans }: WideBoosts,
  type: number,
  frequencyHz: number,
  gainDb: number,
): boolean {
  return (
    type === PEAKING &&
    gainDb > 0 &&
    spans.some(({ fromHz, toHz }) => frequencyHz >= fromHz && frequencyHz <= toHz)
  );
}

/** The greatest Q that a filter may have where it stands; infinite where it is free. */
export function mostQ({ wideBoosts }: FitLimits, { type, frequencyHz, gainDb }: Filter): number {
  const isHeld = wideBoosts && isHeldBroad(wideBoosts, typeCode(type), frequencyHz, gainDb);
  return isHeld ? wideBoosts.maxQ : Number.POSITIVE_INFINITY;
}
