/** The shapes of the Audio EQ Cookbook (W3C Group Note) that banks are made of. */
export type FilterType = 'peaking' | 'lowShelf' | 'highShelf';

/** One band. The numbers mean exactly the Audio EQ Cookbook's f0, dBgain and Q (W3C Group Note). */
export interface Filter {
  readonly type: FilterType;
  readonly frequencyHz: number;
  readonly gainDb: number;
  readonly q: number;
}

/** a0 divided out: H(z) = (b0 + b1 z⁻¹ + b2 z⁻²) / (1 + a1 z⁻¹ + a2 z⁻²). */
export interface BiquadCoefficients {
  readonly b0: number;
  readonly b1: number;
  readonly b2: number;
  readonly a1: number;
  readonly a2: number;
}
