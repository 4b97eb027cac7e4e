import type { Setup } from '../../acoustics/setup.js';
import type { Curve, FrequencyRange } from '../../curve/curve.js';
import type { RollOff } from '../speaker/rollOff.js';

/** A reflection seen in an impulse response, relative to the direct sound. */
export interface TimeReflection {
  readonly delayS: number;
  readonly levelDb: number;
  readonly pathDifferenceM: number;
}

/** All that a diagnosis may draw on. Only `curve` and `range` are always there. */
export interface DiagnosisInput {
  /** On the analysis grid (48 points an octave), power-averaged over positions, not smoothed further. */
  readonly curve: Curve;
  readonly range: FrequencyRange;
  /** The width in octaves over which the curve had been smoothed before it was written, where that is known. */
  readonly smoothedOverOctaves?: number;
  /** The box behind the low end's fall, where it is known; otherwise it is fitted to `curve`. */
  readonly rollOff?: RollOff;
  /** Standard deviation over positions at each point of `curve`, where several positions were given. */
  readonly spreadDb?: Float64Array;
  readonly setup?: Setup;
  /** The same speaker at other placements, each on the same grid as `curve`. */
  readonly moved?: readonly Curve[];
  readonly reflections?: readonly TimeReflection[];
  /** Excess group delay on the grid of `curve`, where phase was measured. */
  readonly excessGroupDelayS?: Float64Array;
  /** The gated curve on the grid of `curve`, and the lowest frequency (1/T) that its gate resolves. */
  readonly direct?: { readonly curve: Curve; readonly resolvedFromHz: number };
  /**
   * What follows the direct sound, band by band (`impulse/laterSound.ts`), at frequencies of its own; only where every
   * position came as an impulse response in which no strong reflection was found.
   */
  readonly laterSound?: Curve;
}
