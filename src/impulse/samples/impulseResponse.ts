/** What comes out for a unit impulse in; sample 0 is time 0. */
export interface ImpulseResponse {
  readonly samples: Float64Array;
  readonly sampleRateHz: number;
}
