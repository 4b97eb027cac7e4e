import type { Curve, FrequencyRange } from './curve.js';

/** The points of a curve that lie in `range`, ends included. May be empty. */
export function sliceCurve(curve: Curve, range: FrequencyRange): Curve {
  const slack = 1e-9;
  const first = curve.frequencyHz.findIndex((f) => f >= range.fromHz * (1 - slack));
  const last = curve.frequencyHz.findLastIndex((f) => f <= range.toHz * (1 + slack));
  const cut = (values: Float64Array) =>
    first < 0 || last < first ? new Float64Array(0) : values.slice(first, last + 1);
  return {
    frequencyHz: cut(curve.frequencyHz),
    levelDb: cut(curve.levelDb),
    ...(curve.phaseRad && { phaseRad: cut(curve.phaseRad) }),
  };
}
