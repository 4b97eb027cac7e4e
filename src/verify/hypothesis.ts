import type { QConventionName } from '../filter/qConventions.js';
import type { FaultType } from '../schema/verification.js';

/** One thing that may have gone wrong, and what the equalizer then adds in place of what was promised. */
export interface Hypothesis {
  readonly type: FaultType;
  /** Index of the filter concerned. */
  readonly filter?: number;
  /** Added to the promised response, on the grid. */
  readonly changeDb: Float64Array;
  /** How much likelier (natural logarithm) the data must make it, since it is one of many. */
  readonly penalty: number;
  readonly detail: HypothesisDetail;
}

export interface HypothesisDetail {
  /** The frequency that seems to have been entered, and how the slip may have come about. */
  readonly frequencyHz?: number;
  readonly slip?: string;
  /** The gain that the filter seems to have. */
  readonly gainDb?: number;
  /** The Q that the filter seems to have, the cookbook's. */
  readonly q?: number;
  /** The filter, or all of them, runs two times one after the other. */
  readonly isDoubled?: true;
  /** What share of their gains in dB all filters seem to have. */
  readonly gainShare?: number;
  readonly convention?: QConventionName;
  /** `entered`: the device took the cookbook's Q for its own; `converted`: it took converted numbers for the cookbook's. */
  readonly direction?: 'entered' | 'converted';
  /** The rate that the coefficients were made for, and the one at which they seem to run. */
  readonly madeForHz?: number;
  readonly runningAtHz?: number;
  /** What is exchanged: the filters of both channels, or the speakers behind the equalizer, or the speaker measured. */
  readonly exchanged?: 'filters' | 'speakers' | 'measured';
}

/** A hypothesis and how much likelier (natural logarithm) the data make it than that nothing is wrong, its penalty taken off. */
export interface Weighed {
  readonly hypothesis: Hypothesis;
  readonly evidence: number;
}

/** All that may have gone wrong with a bank. */
export interface Suspects {
  readonly whole: readonly Hypothesis[];
  /** For each filter. */
  readonly single: readonly (readonly Hypothesis[])[];
  /** The same with the number left free, a frequency or a Q, so many octaves higher; undefined where none is free or possible. */
  readonly refine: (found: Hypothesis, octaves: number) => Hypothesis | undefined;
  readonly leastEvidence: number;
}
