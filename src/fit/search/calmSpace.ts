import { log } from '../../elementary/logarithm.js';
import { PEAKING } from '../bank/bands.js';
import type { SearchSpace } from './searchSpace.js';

/** A shelf of this Q or less rises nowhere above its ends: slope 1 at most, by the cookbook's Q = 1/√2. */
const CALM_SHELF_Q = 0.7;

/**
 * The part of a space in which no bank rises above 0 dB anywhere: cuts only, and shelves too flat to overshoot. Undefined
 * where it holds no band.
 */
export function calmSpace<T extends Pick<SearchSpace, 'bounds' | 'types'>>(space: T): T | undefined {
  const { peakingLower, shelfLower, peakingUpper, shelfUpper } = space.bounds;
  const upperGain = Math.min(0, peakingUpper[1]);
  const lnQ = Math.min(shelfUpper[2], log(CALM_SHELF_Q));
  const types = lnQ < shelfLower[2] ? space.types.filter((type) => type === PEAKING) : space.types;
  if (upperGain <= peakingLower[1] || types.length === 0) return undefined;
  return {
    ...space,
    types,
    bounds: {
      ...space.bounds,
      peakingUpper: [peakingUpper[0], upperGain, peakingUpper[2]],
      shelfUpper: [shelfUpper[0], upperGain, Math.max(shelfLower[2], lnQ)],
    },
  };
}
