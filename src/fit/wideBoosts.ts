import { exp } from '../elementary/exponential.js';
import type { Filter } from '../filter/filter.js';
import { PEAKING, typeCode } from './bands.js';
import type { FitLimits, WideBoosts } from './fitProblem.js';

/** Whether a band stands where it may boost broadly only, and boosts. */
export function isHeldBroad({ spans }: WideBoosts, type: number, lnF: number, gainDb: number): boolean {
  return type === PEAKING && gainDb > 0 && isInOne(spans, exp(lnF));
}

/** The greatest Q that a filter may have where it stands; infinite where it is free. */
export function mostQ({ wideBoosts }: FitLimits, { type, frequencyHz, gainDb }: Filter): number {
  if (!wideBoosts || typeCode(type) !== PEAKING || gainDb <= 0) return Number.POSITIVE_INFINITY;
  return isInOne(wideBoosts.spans, frequencyHz) ? wideBoosts.maxQ : Number.POSITIVE_INFINITY;
}

function isInOne(spans: WideBoosts['spans'], hz: number): boolean {
  return spans.some(({ fromHz, toHz }) => hz >= fromHz && hz <= toHz);
}
