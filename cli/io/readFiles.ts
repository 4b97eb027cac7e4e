import type { Setup } from '../../src/acoustics/setup.js';
import type { Curve } from '../../src/curve/curve.js';
import type { Measurement } from '../../src/measurement/measurement.js';
import { readCurveText } from '../../src/measurement/readCurveText.js';
import { type ReadImpulse, readImpulse } from '../../src/measurement/readImpulse.js';
import { type MeasurementReading, readMeasurement } from '../../src/measurement/readMeasurement.js';
import { readTargetBytes } from '../../src/pipeline/readTargetBytes.js';
import { readSetup } from '../../src/schema/setup.js';
import type { Warning } from '../../src/warning.js';
import { readInputBytes, readInputText } from './readInput.js';

const MEASUREMENT =
  'a measurement: a text file with rows of frequency and level, or an impulse response as WAV';
const IMPULSE = 'an impulse response as WAV';
const SETUP = 'a set-up file in JSON (its format: nullwise schema setup)';
const TARGET =
  'a target file: breakpoints in JSON (its format: nullwise schema target) or rows of frequency and level';
const CALIBRATION = 'a microphone calibration: a text file with rows of frequency and level';

export function readMeasurementFile(path: string, reading: MeasurementReading = {}): Measurement {
  return readMeasurement(readInputBytes(path, MEASUREMENT), path, reading);
}

export function readImpulseFile(path: string, channel?: number): ReadImpulse {
  return readImpulse(readInputBytes(path, IMPULSE), path, channel);
}

export function readSetupFile(path: string): Setup {
  return readSetup(readInputText(path, SETUP), path, SETUP);
}

/** A curve that is no measurement, and what was noticed in reading it. */
export interface ReadCurve {
  readonly curve: Curve;
  readonly warnings: readonly Warning[];
}

/** Deviation of the microphone, as its maker or a comparison gives it. */
export function readCalibrationFile(path: string): ReadCurve {
  return readCurveText(readInputBytes(path, CALIBRATION), path);
}

/** Breakpoints in JSON or in two columns; none for the word "flat". */
export function readTargetFile(path: string): ReadCurve | undefined {
  if (path === 'flat') return undefined;
  return readTargetBytes(readInputBytes(path, TARGET), path, TARGET);
}
