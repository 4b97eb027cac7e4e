import type { Curve, FrequencyRange } from '../curve/curve.js';
import type { Reflection } from '../impulse/arrivals/paths.js';
import type { Warning } from '../warning.js';

/** How much of an impulse response was kept. */
export interface KeptSound {
  /** From the arrival of the direct sound on. */
  readonly afterS: number;
  /** Whether the end fades, as that of a gate does; that of a recording does not. */
  readonly fades: boolean;
}

/** A frequency response as read from a file. */
export interface Measurement {
  readonly fileName: string;
  readonly curve: Curve;
  /** Comment and heading lines without their markers, at most the first hundred. */
  readonly comments: readonly string[];
  /** Data rows in the file, before repeated frequencies were averaged; samples where it was an impulse response. */
  readonly rows: number;
  readonly warnings: readonly Warning[];
  /** The gate, or the length of the recording, resolves nothing below. */
  readonly resolvedFromHz?: number;
  /** What of the impulse response it was made of, where that is known. */
  readonly kept?: KeptSound;
  /** Where the curve is resolved and stands clear of the noise; everywhere where it is not given. */
  readonly trusted?: FrequencyRange;
  /** The span of the sweep, where an end of `trusted` may be due to it. */
  readonly swept?: FrequencyRange;
  /** Seen in the impulse response. */
  readonly reflections?: readonly Reflection[];
  /** What came before the first strong reflection, and the lowest frequency that is resolved in it. */
  readonly direct?: { readonly curve: Curve; readonly resolvedFromHz: number };
  /** What follows the direct sound, band by band (`laterSound`), where no strong reflection was found in the impulse response. */
  readonly laterSound?: Curve;
}
