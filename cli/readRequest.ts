import { basename } from 'node:path';
import type { Setup } from '../src/acoustics/setup.js';
import type { Curve } from '../src/curve/curve.js';
import type { DeviceProfile } from '../src/device/profile/deviceProfile.js';
import { InputError } from '../src/inputError.js';
import type { Measurement } from '../src/measurement/measurement.js';
import type { MeasurementReading } from '../src/measurement/readMeasurement.js';
import type { DesignRequest, MeasuredRequest } from '../src/pipeline/designRequest.js';
import { askedRange, designRequestOf } from '../src/pipeline/designRequestOf.js';
import { titleOf } from '../src/pipeline/titleOf.js';
import {
  type DesignOptions,
  designDefaults,
  designOptionsSchema,
  readDesignOptions,
} from '../src/schema/designOptions.js';
import { gather } from './gather.js';
import { type ImpulseFlags, impulseReading, refuseWithoutImpulse } from './impulseOptions.js';
import { readDeviceFile } from './io/readDeviceFile.js';
import {
  type ReadCurve,
  readCalibrationFile,
  readMeasurementFile,
  readSetupFile,
  readTargetFile,
} from './io/readFiles.js';
import { type MeasuredFlags, optionName } from './options.js';

/** Options by their names in camelCase, as they were written. */
export type Flags = Readonly<Record<string, unknown>> &
  MeasuredFlags &
  ImpulseFlags & { readonly target?: string; readonly device?: string; readonly repeat?: readonly string[] };

/** All that a command line names, read; `options` has the numbers with their defaults. */
interface Inputs {
  readonly measured: MeasuredRequest;
  readonly breakpoints?: Curve;
  readonly device?: DeviceProfile;
  readonly options: DesignOptions;
}

/** @throws InputError with every problem of options and files */
export function readMeasuredRequest(paths: readonly string[], flags: Flags): MeasuredRequest {
  return readInputs(paths, flags, flags).measured;
}

/**
 * @param own those of `flags` that were given for these very measurements, and not for a whole batch: they are to have an effect
 * @throws InputError with every problem of options and files
 */
export function readDesignRequest(paths: readonly string[], flags: Flags, own: Flags = flags): DesignRequest {
  return designRequestOf({ ...readInputs(paths, flags, own), written: flags });
}

/** Files that a command line names, none of which may be overwritten. */
export function inputPaths(paths: readonly string[], flags: Flags): string[] {
  const { setup, calibration, target, device, moved = [], repeat = [] } = flags;
  return [
    ...paths,
    ...moved,
    ...repeat,
    ...[setup, calibration, target, device].filter((path) => path !== undefined),
  ];
}

function readInputs(paths: readonly string[], flags: Flags, own: Flags): Inputs {
  let options: DesignOptions | undefined;
  let setup: Setup | undefined;
  let calibration: ReadCurve | undefined;
  let target: ReadCurve | undefined;
  let device: DeviceProfile | undefined;
  const measurements: Measurement[] = [];
  const moved: Measurement[] = [];
  const repeats: Measurement[] = [];
  let reading: MeasurementReading = {};
  gather([
    () => {
      reading = impulseReading(flags);
    },
    () => {
      options = readDesignOptions(numbersOf(flags), 'options', optionName);
    },
    ...paths.map((path) => () => void measurements.push(readMeasurementFile(path, reading))),
    ...(flags.moved ?? []).map((path) => () => void moved.push(readMeasurementFile(path, reading))),
    ...(flags.repeat ?? []).map((path) => () => void repeats.push(readMeasurementFile(path, reading))),
    () => {
      if (flags.setup !== undefined) setup = readSetupFile(flags.setup);
    },
    () => {
      if (flags.calibration !== undefined) calibration = readCalibrationFile(flags.calibration);
    },
    () => {
      if (flags.target !== undefined) target = readTargetFile(flags.target);
    },
    () => {
      if (flags.device !== undefined) device = readDeviceFile(flags.device);
    },
  ]);
  gather([
    () => refuseWithoutImpulse(own, [...measurements, ...moved, ...repeats]),
    () => refuseShelfWithoutGain(own, flags),
    () => refuseTwoRepeatabilities(own),
  ]);
  const measured: MeasuredRequest = {
    title: flags.title ?? titleOf(measurements),
    measurements,
    ...(moved.length > 0 && { moved }),
    ...(repeats.length > 0 && { repeats }),
    ...(calibration && { calibration: calibration.curve, calibrationName: basename(flags.calibration!) }),
    ...(setup && { setup }),
    ...askedRange(options!),
    warnings: [...(calibration?.warnings ?? []), ...(target?.warnings ?? [])],
  };
  return {
    measured,
    ...(target && { breakpoints: target.curve }),
    ...(device && { device }),
    options: options!,
  };
}

function refuseShelfWithoutGain({ bassShelfFrequency }: Flags, { bassShelf }: Flags): void {
  const isAsked =
    bassShelfFrequency !== undefined && bassShelfFrequency !== designDefaults.bassShelfFrequency;
  if (!isAsked || bassShelf !== undefined) return;
  throw new InputError(
    '--bass-shelf-frequency: found without --bass-shelf, expected the gain of the shelf beside it',
  );
}

function refuseTwoRepeatabilities({ repeat, repeatability }: Flags): void {
  if (repeat !== undefined && repeatability !== undefined)
    throw new InputError(
      '--repeatability: found beside --repeat, from which it is estimated; expected one or the other',
    );
}

function numbersOf(flags: Flags): Record<string, unknown> {
  const known = Object.keys(designOptionsSchema.shape);
  return Object.fromEntries(Object.entries(flags).filter(([field]) => known.includes(field)));
}
