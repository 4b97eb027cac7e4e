import type { DiagnosisInput } from '../../src/diagnosis/scene/diagnosisInput.js';

/** A true dip of direct plus reflected sound over the direct sound alone. */
export interface TrueCancellation {
  readonly frequencyHz: number;
  /** How far it lies below the 1.5 octaves around it, in dB, positive. */
  readonly depthDb: number;
  readonly fromHz: number;
  readonly toHz: number;
  /** Surfaces that take part, the one that takes away most first. */
  readonly surfaces: readonly string[];
}

/** A resonance of the speaker's own. */
export interface TrueResonance {
  readonly frequencyHz: number;
  readonly gainDb: number;
  readonly q: number;
}

/** A simulated measurement whose causes are known. */
export interface EvaluationCase {
  readonly id: string;
  /** With everything that may be known; the harness leaves parts out. */
  readonly input: DiagnosisInput;
  readonly cancellations: readonly TrueCancellation[];
  readonly resonances: readonly TrueResonance[];
  /** Level of direct plus reflected over direct, late sound and all, on the grid of the curve, not smoothed. */
  readonly interferenceDb: Float64Array;
  /** Level of the speaker's direct sound alone, on the grid of the curve, on any scale, without noise. */
  readonly ownDb: Float64Array;
  /** True distance of the speaker from each surface, in metres. */
  readonly distancesM: ReadonlyMap<string, number>;
}
