import type { FrequencyRange } from '../../curve/curve.js';
import type { Filter, FilterType } from '../../filter/filter.js';
import type { QConventionName } from '../../filter/qConventions.js';

/** A span in which the sum of the EQ is held between +`maxRiseDb` and `maxFallDb` under its lower edge value. */
export interface ProtectedZone {
  readonly fromHz: number;
  readonly toHz: number;
  readonly maxRiseDb: number;
  readonly maxFallDb: number;
}

export interface QEnds {
  readonly min: number;
  readonly max: number;
}

/** Values of a convention that can be set. */
export interface QSetting {
  readonly convention: QConventionName;
  readonly min: number;
  readonly max: number;
  readonly sampleRateHz: number;
}

/** Spans in which what is boosted is boosted broadly: no peaking band that stands there and boosts has a greater Q. */
export interface WideBoosts {
  readonly maxQ: number;
  readonly spans: readonly FrequencyRange[];
}

export interface FixedBand {
  readonly type: FilterType;
  readonly frequencyHz: number;
}

export interface FitLimits {
  readonly maxBands: number;
  readonly types: readonly FilterType[];
  /** Of each band that may be used, what it may be; any of `types` where absent. At least `maxBands` of them. */
  readonly slots?: readonly (readonly FilterType[])[];
  /** Bands besides whose frequency cannot be chosen: the search leaves them alone, whoever rounds may use them. */
  readonly fixedBands?: readonly FixedBand[];
  /** Each filter's gain, and the sum at every frequency. */
  readonly maxBoostDb: number;
  /** Each filter's greatest cut, as a positive number. */
  readonly maxCutDb: number;
  readonly minQ: number;
  readonly maxQ: number;
  /** Shelves stop at this Q if it is below `maxQ`: beyond it they overshoot into resonances. */
  readonly maxShelfQ: number;
  /** The ends of the Q of shelves where they have their own, in place of the three above. */
  readonly shelfQ?: QEnds;
  /** What is set in place of Q, where it hangs on frequency or gain how far that goes in Q. */
  readonly qSetting?: QSetting;
  readonly wideBoosts?: WideBoosts;
  readonly minFrequencyHz: number;
  readonly maxFrequencyHz: number;
  /** The mean of the EQ over the range stays above its negative. */
  readonly maxLevelLossDb: number;
}

/**
 * What the optimizer sees: weights and caps on a frequency grid. It knows nothing of rooms or causes.
 * The EQ is to bring `deviationDb` + EQ to one level, which is free unless `levelDb` is given.
 */
export interface FitProblem {
  readonly sampleRateHz: number;
  /** Ascending grid over the range, n points. */
  readonly frequencyHz: Float64Array;
  /** Where the range ends, if not at the ends of the grid: between these the mean of the EQ is taken. */
  readonly range?: FrequencyRange;
  /** Smoothed measurement minus target shape, n points; a straight line where a dip is to be left. */
  readonly deviationDb: Float64Array;
  /** Weight of the squared error, n points, ≥ 0; zero inside protected zones, little on a straight line in place of a dip. */
  readonly weight: Float64Array;
  /** Upper limit of the EQ's sum at `capFrequencyHz`, which spans from near 0 Hz to half the sample rate. */
  readonly capFrequencyHz: Float64Array;
  readonly capDb: Float64Array;
  readonly zones: readonly ProtectedZone[];
  /** The target's level on the scale of `deviationDb`; free where absent. */
  readonly levelDb?: number;
  readonly limits: FitLimits;
}

export interface FitResult {
  readonly filters: readonly Filter[];
  /** Level on the scale of `deviationDb` about which the error was taken. */
  readonly levelDb: number;
  /** Weighted RMS of what remains. */
  readonly rmsDb: number;
  readonly stopReason: string;
  readonly iterations: number;
  /** For example `filters[2].gainDb at max`. */
  readonly limitsReached: readonly string[];
}
