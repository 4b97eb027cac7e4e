import type { Design } from '../../schema/design.js';
import { allowedLimit } from '../words/allowedLimits.js';

const STEP_DB = 3;

/** The span of the EQ panel, in multiples of 3 dB, with 0 dB and the greatest allowed boost in it. */
export function eqDomain(design: Design): [number, number] {
  const low = Math.min(-STEP_DB, ...design.curves.eqDb);
  const high = Math.max(STEP_DB, allowedLimit(design, 'maxBoostDb').value, ...design.curves.eqDb);
  return [Math.floor(low / STEP_DB - 0.1) * STEP_DB, Math.ceil(high / STEP_DB + 0.1) * STEP_DB];
}
