import type { Setup } from '../../src/acoustics/setup.js';
import type { DesignRequest } from '../../src/pipeline/designRequest.js';
import type { DiagnosedMeasurements } from '../../src/pipeline/diagnoseMeasurements.js';
import type { Design } from '../../src/schema/design.js';
import type { FileReading, Job } from './job.js';

/** What a worker is asked. `id` comes back with every answer. */
export type Question =
  /** Read, diagnose, and fit with a short search. */
  | { readonly kind: 'first'; readonly id: number; readonly job: Job }
  /** Fit with the whole search. */
  | {
      readonly kind: 'whole';
      readonly id: number;
      readonly request: DesignRequest;
      readonly diagnosed: DiagnosedMeasurements;
    }
  /** A short fit of the last `first` job as if the speaker stood elsewhere. */
  | { readonly kind: 'elsewhere'; readonly id: number; readonly setup: Setup };

export type Answer =
  | { readonly kind: 'step'; readonly id: number; readonly words: string }
  | { readonly kind: 'read'; readonly id: number; readonly files: readonly FileReading[] }
  /** In words for the user: what is wrong with files or numbers. */
  | { readonly kind: 'refused'; readonly id: number; readonly problems: readonly string[] }
  | {
      readonly kind: 'first';
      readonly id: number;
      readonly design: Design;
      readonly request: DesignRequest;
      readonly diagnosed: DiagnosedMeasurements;
    }
  | { readonly kind: 'whole'; readonly id: number; readonly design: Design }
  | { readonly kind: 'elsewhere'; readonly id: number; readonly design: Design }
  /** A fault of ours. */
  | { readonly kind: 'failed'; readonly id: number; readonly message: string };
