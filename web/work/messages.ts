import type { Setup } from '../../src/acoustics/setup.js';
import type { DesignRequest } from '../../src/pipeline/designRequest.js';
import type { DiagnosedMeasurements } from '../../src/pipeline/diagnoseMeasurements.js';
import type { Design } from '../../src/schema/design.js';
import type { Verification } from '../../src/schema/verification.js';
import type { ExplainedCurve } from '../../src/whatIf/explainCurve.js';
import type { ProjectFile } from '../store/project.js';
import type { FileReading, Job } from './job.js';

/** What a design is made from. */
export interface DesignBasis {
  readonly request: DesignRequest;
  readonly diagnosed: DiagnosedMeasurements;
}

/** What a design is held against. */
export interface Check {
  readonly design: Design;
  /** Measured with the filters in. */
  readonly after: readonly ProjectFile[];
  /** Measured without them, in place of the design's own curve; none where that is to serve. */
  readonly before: readonly ProjectFile[];
  /** The other speaker. */
  readonly other: ProjectFile | undefined;
  readonly calibration: ProjectFile | undefined;
}

/** What a worker is asked. `id` comes back with every answer. */
export type Question =
  /** Read, diagnose, and unless only that is wanted fit with a short search. */
  | { readonly kind: 'first'; readonly id: number; readonly job: Job; readonly fit: boolean }
  /** Fit with the whole search. */
  | { readonly kind: 'whole'; readonly id: number; readonly basis: DesignBasis }
  /** Take the curve apart into the speaker and what the set-up's surfaces do. */
  | { readonly kind: 'explain'; readonly id: number; readonly basis: DesignBasis; readonly setup: Setup }
  /** A short fit of a curve as it would be with the speaker elsewhere. */
  | {
      readonly kind: 'elsewhere';
      readonly id: number;
      readonly basis: DesignBasis;
      readonly setup: Setup;
      readonly levelDb: Float64Array;
    }
  /** Hold measurements taken with the filters in, averaged, against what the design promises. */
  | ({ readonly kind: 'verify'; readonly id: number } & Check);

export type Answer =
  | { readonly kind: 'step'; readonly id: number; readonly words: string }
  | { readonly kind: 'read'; readonly id: number; readonly files: readonly FileReading[] }
  /** In words for the user: what is wrong with files or numbers. */
  | { readonly kind: 'refused'; readonly id: number; readonly problems: readonly string[] }
  | { readonly kind: 'diagnosed'; readonly id: number; readonly basis: DesignBasis }
  | { readonly kind: 'first'; readonly id: number; readonly design: Design | undefined }
  | { readonly kind: 'whole'; readonly id: number; readonly design: Design }
  /** Follows the whole design, which does not wait for it; undefined where the number of bands is no choice. */
  | { readonly kind: 'againstBands'; readonly id: number; readonly curve: Design['errorAgainstBands'] }
  | { readonly kind: 'explained'; readonly id: number; readonly explained: ExplainedCurve | undefined }
  | { readonly kind: 'elsewhere'; readonly id: number; readonly design: Design; readonly setup: Setup }
  | { readonly kind: 'verified'; readonly id: number; readonly verification: Verification }
  /** What stands in the way of comparing, in words. */
  | { readonly kind: 'notVerified'; readonly id: number; readonly problem: string }
  /** A fault of ours. */
  | { readonly kind: 'failed'; readonly id: number; readonly message: string };
