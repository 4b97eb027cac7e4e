import type { Bands } from '../bank/bands.js';

/** What a refinement asks of an objective, over and over. */
export interface Engine {
  /** The objective's value. */
  value(bands: Bands): number;
  /** As `value`; leaves the objective's `eqDb` and `residual` behind. */
  evaluate(bands: Bands): number;
  /** Gradient and Gauss–Newton matrix where `value` was last taken. */
  linearize(bands: Bands): void;
  /** 3n numbers: half the gradient, Jᵀr. */
  readonly gradient: Float64Array;
  /** Lower triangle of the Gauss–Newton matrix, its rows as long as the bank has numbers. */
  readonly normalMatrix: Float64Array;
  /** Which numbers may move, ascending. */
  readonly free: Int32Array;
  /** Solves for the step of the first `count` free numbers; false where the damped matrix is not positive definite. */
  solve(n: number, count: number, damping: number): boolean;
  readonly step: Float64Array;
}
