import type { ProtectedSpan } from '../diagnosis/verdict/protectedZones.js';

export interface LimitedSpan extends ProtectedSpan {
  /** How far the sum of the EQ may rise in it. */
  readonly maxRiseDb: number;
}
