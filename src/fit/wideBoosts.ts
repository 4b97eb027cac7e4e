import { exp } from '../elementary/exponential.js';
import { PEAKING } from './bands.js';
import type { WideBoosts } from './fitProblem.js';

/** Whether a band stands where it may boost broadly only, and boosts. */
export function isHeldBroad({ spans }: WideBoosts, type: number, lnF: number, gainDb: number): boolean {
  if (type !== PEAKING || gainDb <= 0) return false;
  const hz = exp(lnF);
  return spans.some(({ fromHz, toHz }) => hz >= fromHz && hz <= toHz);
}
