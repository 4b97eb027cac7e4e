import type { Setup } from '../acoustics/setup.js';
import type { DesignRequest } from '../pipeline/designRequest.js';
import type { MicrophonePlace } from './movePlacement.js';
import type { VariedSpan } from './placementSteps.js';

/** Everything that decides a prediction. */
export interface PredictionRequest {
  readonly title: string;
  readonly setup: Setup;
  /** Surfaces to move away from or toward, each at right angles to the others. */
  readonly varied: readonly VariedSpan[];
  readonly microphone: MicrophonePlace;
  /** Measurements where the speaker stands now, and what a new fit there may do; its set-up is `setup`. */
  readonly measured?: DesignRequest;
}
