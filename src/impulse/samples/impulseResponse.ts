import type { FrequencyRange } from '../../curve/curve.js';

/** What comes out for a unit impulse in; sample 0 is time 0. */
export interface ImpulseResponse {
  readonly samples: Float64Array;
  readonly sampleRateHz: number;
  /** The span of the sweep that it was measured with, where that is known: beyond it nothing was played. */
  readonly swept?: FrequencyRange;
}
