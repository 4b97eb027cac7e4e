/** Samples that may be too many to hold at once. */
export interface SampleSource {
  readonly length: number;
  /** Samples `from` to `from + count`, both within the length. */
  readonly read: (from: number, count: number) => Float64Array;
}

export const arraySource = (samples: Float64Array): SampleSource => ({
  length: samples.length,
  read: (from, count) => samples.subarray(from, from + count),
});
