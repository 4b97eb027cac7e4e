import type { Curve, FrequencyRange } from './curve.js';
import { lowerIndex } from './lowerIndex.js';

/** A bound that equals a point but for rounding takes the point in. */
const SLACK = 1e-9;

/** The points of a curve that lie in `range`, ends included. May be empty. */
export function sliceCurve(curve: Curve, range: FrequencyRange): Curve {
  const start = lowerIndex(curve.frequencyHz, range.fromHz * (1 - SLACK)) + 1;
  const end = lowerIndex(curve.frequencyHz, range.toHz * (1 + SLACK)) + 1;
  const cut = (values: Float64Array) => values.slice(start, Math.max(start, end));
  return {
    frequencyHz: cut(curve.frequencyHz),
    levelDb: cut(curve.levelDb),
    ...(curve.phaseRad && { phaseRad: cut(curve.phaseRad) }),
  };
}
