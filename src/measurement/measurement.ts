import type { Curve, FrequencyRange } from '../curve/curve.js';
import type { Reflection } from '../impulse/arrivals/paths.js';
import type { Warning } from '../warning.js';

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
  /** Where the curve is resolved and stands clear of the noise; everywhere where it is not given. */
  readonly trusted?: FrequencyRange;
  /** Seen in the impulse response. */
  readonly reflections?: readonly Reflection[];
  /** What came before the first strong reflection, and the lowest frequency that is resolved in it. */
  readonly direct?: { readonly curve: Curve; readonly resolvedFromHz: number };
  /** What follows the direct sound, band by band (`laterSound`), where no strong reflection was found in the impulse response. */
  readonly laterSound?: Curve;
}
