import type { FilterType } from '../../filter/filter.js';
import type { FixedPointFormat } from '../../filter/fixedPoint.js';
import type { QConventionName } from '../../filter/qConventions.js';
import type { CoefficientName, FeedbackSign } from '../../filter/roundCoefficients.js';

/**
 * The values that a device has for a number: multiples of `step` from 0, 1000·2^(k/perOctave), the `values` of a
 * list, or any number where none of them is given. At most one of them is.
 */
export interface DeviceRange {
  readonly min: number;
  readonly max: number;
  readonly step?: number;
  readonly perOctave?: number;
  /** Ascending. */
  readonly values?: readonly number[];
}

/** Bands of one kind. */
export interface DeviceBands {
  /** What each of them may be. */
  readonly types: readonly FilterType[];
  readonly count: number;
  /** Where each of them stands, `count` of them, for bands whose frequency cannot be chosen. */
  readonly atHz?: readonly number[];
}

/** How a device stores coefficients. */
export interface DeviceCoefficients {
  /** Absent: floating point, exact for our purposes. */
  readonly fixedPoint?: FixedPointFormat;
  readonly feedbackSign: FeedbackSign;
  readonly order: readonly CoefficientName[];
}

/** How late a device lets its signal out, all frequencies alike; what is given adds up. */
export interface DeviceDelay {
  readonly fixedMs?: number;
  readonly fixedSamples?: number;
  /** For each band in use. */
  readonly perBandSamples?: number;
}

/** What a DSP can hold. */
export interface DeviceProfile {
  readonly name: string;
  readonly sampleRatesHz: readonly number[];
  readonly bands: readonly DeviceBands[];
  readonly gainDb: DeviceRange;
  readonly frequencyHz: DeviceRange;
  /** On the scale of `qConvention`. */
  readonly q: DeviceRange;
  readonly qConvention: QConventionName;
  readonly coefficients?: DeviceCoefficients;
  /** By how much the signal may exceed full scale between the bands; without limit where absent. */
  readonly headroomDb?: number;
  readonly delay?: DeviceDelay;
}
