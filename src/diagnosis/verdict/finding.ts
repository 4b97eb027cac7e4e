import type { FrequencyRange } from '../../curve/curve.js';

/** What to do about a feature: mend it by EQ, mend it by placement (never boosted), or keep hands off. */
export type Verdict = 'equalize' | 'move' | 'leave';

/** What a feature is laid to. */
export interface Cause {
  readonly type: 'reflection' | 'roomMode' | 'speaker' | 'unknown';
  /** The name that the set-up file gives the surface. */
  readonly surface?: string;
  readonly predictedHz?: number;
}

/** One peak or dip of the curve against the surrounding trend. */
export interface Finding {
  readonly kind: 'peak' | 'dip';
  readonly frequencyHz: number;
  /** Signed height over the surrounding trend. */
  readonly levelDb: number;
  readonly widthOctaves: number;
  readonly verdict: Verdict;
  readonly cause: Cause;
  /** Probability, 0 to 1, that cause and verdict are right; where the cause is not known, that it is not the speaker. */
  readonly confidence: number;
  /** One sentence each, with numbers, the decisive first. */
  readonly evidence: readonly string[];
  /** What the user should do, one sentence; present where there is something to do. */
  readonly advice?: string;
  /**
   * For `move` dips, and `leave` dips that are no trifle and lie below the trend: the span in which the error does not
   * count. The EQ boosts nothing in the former and does not fill the latter.
   */
  readonly zone?: FrequencyRange;
}
