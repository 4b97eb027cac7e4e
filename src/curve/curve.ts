/**
 * A frequency response.
 *
 * `frequencyHz` ascends strictly and is positive; the arrays have equal length; every value is finite.
 * `phaseRad` is unwrapped where it is present.
 */
export interface Curve {
  readonly frequencyHz: Float64Array;
  readonly levelDb: Float64Array;
  readonly phaseRad?: Float64Array;
}

/** A closed span of frequency, `fromHz` < `toHz`. */
export interface FrequencyRange {
  readonly fromHz: number;
  readonly toHz: number;
}
