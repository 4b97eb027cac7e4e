import type { Setup } from '../acoustics/setup.js';
import type { Curve } from '../curve/curve.js';
import type { DeviceProfile } from '../device/profile/deviceProfile.js';
import type { Filter } from '../filter/filter.js';
import type { EffortName } from '../fit/effort.js';
import type { Aim } from '../fit/fitPositions.js';
import type { Measurement } from '../measurement/measurement.js';
import type { TargetRequest } from '../target/targetRequest.js';
import type { Warning } from '../warning.js';
import type { Overrule } from './overruleFindings.js';

/** What was measured, and what is known of it. */
export interface MeasuredRequest {
  /** What the user calls it; goes on top of every output. */
  readonly title: string;
  /** Positions of one set-up. */
  readonly measurements: readonly Measurement[];
  /** The same speaker at other placements. */
  readonly moved?: readonly Measurement[];
  /** The first of `measurements` taken again, to see how well it repeats. */
  readonly repeats?: readonly Measurement[];
  /** Deviation of the microphone, subtracted from every measurement. */
  readonly calibration?: Curve;
  /** Its file. */
  readonly calibrationName?: string;
  readonly setup?: Setup;
  readonly fromHz?: number;
  readonly toHz?: number;
  /** Of the reading of the other files: calibration and target. */
  readonly warnings?: readonly Warning[];
}

/** Everything that decides a design; the same request gives the same design, to the byte. */
export interface DesignRequest extends MeasuredRequest {
  readonly target: TargetRequest;
  /** What the filters are to run in; any numbers will do where absent. */
  readonly device?: DeviceProfile;
  readonly levelDb?: number;
  readonly bands: number;
  readonly maxBoostDb: number;
  readonly maxCutDb: number;
  readonly maxLevelLossDb: number;
  readonly minQ: number;
  readonly maxQ: number;
  /** Of a shelf, where that is less; beyond 0.71 a shelf overshoots at both ends. */
  readonly maxShelfQ?: number;
  readonly sampleRateHz: number;
  /** Width of the smoothing under which the error is taken; 0 for none. */
  readonly smoothingOctaves: number;
  readonly seed: number;
  /** How long is searched; normal where absent. */
  readonly effort?: EffortName;
  /** Of several positions, what is made small: the error of their average, or the worst of them; `mean` where absent. */
  readonly aim?: Aim;
  /** RMS in dB to which one measurement repeats; estimated from `repeats` where absent and these are given. */
  readonly repeatabilityDb?: number;
  /** Whether the error against the number of bands is worked out as well. */
  readonly againstBands?: boolean;
  /** Verdicts given by hand. */
  readonly overrules?: readonly Overrule[];
  /** Filters that are in already and stay as they are; they count among `bands`, the fit makes the others. */
  readonly held?: readonly Filter[];
}

/** What the command line and the app begin with. */
export const DEFAULT_LIMITS = {
  bands: 8,
  maxBoostDb: 6,
  maxCutDb: 12,
  maxLevelLossDb: 3,
  minQ: 0.4,
  maxQ: 10,
  sampleRateHz: 48000,
  smoothingOctaves: 1 / 12,
  seed: 1,
} as const;
