import type { Curve } from '../curve/curve.js';
import type { Warning } from '../warning.js';

/** A frequency response as read from a file. */
export interface Measurement {
  readonly fileName: string;
  readonly curve: Curve;
  /** Comment and heading lines without their markers, at most the first hundred. */
  readonly comments: readonly string[];
  /** Data rows in the file, before repeated frequencies were averaged. */
  readonly rows: number;
  readonly warnings: readonly Warning[];
}
