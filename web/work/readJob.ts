import type { Setup } from '../../src/acoustics/setup.js';
import type { Curve } from '../../src/curve/curve.js';
import { bandCount } from '../../src/device/profile/bandSlots.js';
import type { DeviceProfile } from '../../src/device/profile/deviceProfile.js';
import { InputError } from '../../src/inputError.js';
import { applyCalibration } from '../../src/measurement/applyCalibration.js';
import { inFile } from '../../src/measurement/inFile.js';
import { isMarkedSimulated } from '../../src/measurement/isMarkedSimulated.js';
import type { Measurement } from '../../src/measurement/measurement.js';
import { type CurveText, readCurveText } from '../../src/measurement/readCurveText.js';
import { readGate } from '../../src/measurement/readGate.js';
import { type MeasurementReading, readMeasurement } from '../../src/measurement/readMeasurement.js';
import type { DesignRequest } from '../../src/pipeline/designRequest.js';
import { designRequestOf } from '../../src/pipeline/designRequestOf.js';
import { titleOf } from '../../src/pipeline/titleOf.js';
import type { Design } from '../../src/schema/design.js';
import { readDesignOptions } from '../../src/schema/designOptions.js';
import { readDevice } from '../../src/schema/device.js';
import { isJsonText } from '../../src/schema/isJsonText.js';
import { readDesign } from '../../src/schema/readDesign.js';
import { readSetup } from '../../src/schema/setup.js';
import { targetSchema } from '../../src/schema/target.js';
import { formatFrequency } from '../../src/units/formatFrequency.js';
import type { OtherChannel } from '../../src/verify/channelHypotheses.js';
import type { AsMeasured } from '../../src/verify/measuredBefore.js';
import type { Warning } from '../../src/warning.js';
import type { ProjectFile } from '../store/project.js';
import { fileBytes } from '../store/projectFile.js';
import type { FileReading, Job } from './job.js';
import { optionWords } from './optionWords.js';

/** What a file should be that new measurements are held against. */
export const SAVED_DESIGN = 'a design as it is saved under “Hand it over” (design.json)';

type Read =
  | { readonly kind: 'measurement'; readonly measurement: Measurement }
  | { readonly kind: 'calibration'; readonly name: string; readonly text: CurveText }
  | { readonly kind: 'setup'; readonly setup: Setup }
  | { readonly kind: 'device'; readonly device: DeviceProfile }
  | { readonly kind: 'design'; readonly design: Design };

export interface ReadJob {
  /** One for each file of the job, in its order. */
  readonly files: readonly FileReading[];
  /** Absent where something stands in the way; `problems` says what. */
  readonly request?: DesignRequest;
  readonly problems: readonly string[];
}

/** Files that were read before; a file of a project is never changed, only replaced. */
const known = new WeakMap<ProjectFile, Read | InputError>();
const byContent = new Map<string, ProjectFile>();

/** Reads a job the way the command line reads its arguments: all problems are told at once. */
export function readJob(job: Job): ReadJob {
  const read = job.files.map((file) => [file, readOnce(file)] as const);
  const of = <K extends Read['kind']>(kind: K, role: string) =>
    read.flatMap(([file, each]) =>
      file.role === role && !(each instanceof InputError) && each.kind === kind
        ? [each as Extract<Read, { kind: K }>]
        : [],
    );
  const measurements = of('measurement', 'position').map(({ measurement }) => measurement);
  const moved = of('measurement', 'placement').map(({ measurement }) => measurement);
  const repeats = of('measurement', 'repeat').map(({ measurement }) => measurement);
  const calibration = of('calibration', 'calibration')[0];
  const setup = of('setup', 'setup')[0]?.setup;
  const device = of('device', 'device')[0]?.device;
  const problems = read.flatMap(([, each]) => (each instanceof InputError ? [each.message] : []));
  const files = read.map(([, each]) => readingOf(each));
  if (problems.length > 0 || measurements.length === 0) return { files, problems };
  try {
    const { target, aim, effort, ...written } = job.options;
    const request = designRequestOf({
      measured: {
        title: job.title ?? titleOf(measurements),
        measurements,
        ...(moved.length > 0 && { moved }),
        ...(repeats.length > 0 && { repeats }),
        ...(calibration && {
          calibration: calibration.text.curve,
          calibrationName: calibration.name,
          warnings: calibration.text.warnings,
        }),
        ...(setup && { setup }),
      },
      ...(target !== undefined && target !== 'flat' && { breakpoints: targetSchema.parse(target) }),
      ...(device && { device }),
      options: readDesignOptions(written, 'options', optionWords),
      written: { ...written, aim, effort },
    });
    const { overrules, held } = job;
    return {
      files,
      problems,
      request: {
        ...request,
        ...(overrules.length > 0 && { overrules }),
        ...(held.length > 0 && { held }),
      },
    };
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return { files, problems: [error.message] };
  }
}

function readOnce(file: ProjectFile): Read | InputError {
  // Files come as copies with every message, so that they are told by what is in them.
  const { role, name, encoding, gate, channel, content } = file;
  const key = `${role} ${name} ${encoding} ${gate} ${channel} ${content.length} ${content}`;
  const same = byContent.get(key) ?? file;
  byContent.set(key, same);
  if (byContent.size > 40) byContent.delete(byContent.keys().next().value!);
  const before = known.get(same);
  if (before) return before;
  const result = attempt(file);
  known.set(same, result);
  return result;
}

function attempt(file: ProjectFile): Read | InputError {
  try {
    return readFile(file);
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
}

/**
 * Sees whether a file is what its role says.
 *
 * @throws InputError saying what is wrong with it
 */
export function checkFile(file: ProjectFile): void {
  readFile(file);
}

function readFile(file: ProjectFile): Read {
  const { name, role } = file;
  switch (role) {
    case 'position':
    case 'repeat':
    case 'placement':
    case 'after':
    case 'before':
      return { kind: 'measurement', measurement: measurementOf(file) };
    case 'calibration':
      return { kind: 'calibration', name, text: calibrationOf(file) };
    case 'setup':
      return { kind: 'setup', setup: readSetup(textOf(file), name) };
    case 'device':
      return { kind: 'device', device: readDevice(textOf(file), name) };
    case 'promised':
      return { kind: 'design', design: readDesign(textOf(file), name, SAVED_DESIGN) };
    case 'other':
      return isJsonFile(file)
        ? { kind: 'design', design: readDesign(textOf(file), name) }
        : { kind: 'measurement', measurement: measurementOf(file) };
  }
}

const isJsonFile = ({ encoding, content }: ProjectFile) => encoding === 'text' && isJsonText(content);

/**
 * The other speaker: by its design, or by a measurement of it without filters.
 *
 * @throws InputError where it cannot be read
 */
export function readOther(
  file: ProjectFile,
  calibration: ProjectFile | undefined,
): { readonly channel: OtherChannel; readonly warnings: readonly Warning[] } {
  if (!isJsonFile(file)) {
    const { curve, warnings } = readCalibrated(file, calibration);
    return { channel: { before: curve }, warnings };
  }
  const design = readDesign(textOf(file), file.name);
  const { frequencyHz, measuredDb } = design.curves;
  const before = { frequencyHz: Float64Array.from(frequencyHz), levelDb: Float64Array.from(measuredDb) };
  return { channel: { bank: design, before }, warnings: [] };
}

function measurementOf(file: ProjectFile): Measurement {
  return readMeasurement(fileBytes(file), file.name, readingAs(file));
}

export function calibrationOf(file: ProjectFile): CurveText {
  return readCurveText(fileBytes(file), file.name);
}

/**
 * A measurement with the microphone's deviation taken off it.
 *
 * @throws InputError where one of the two cannot be read, or they do not fit each other
 */
export function readCalibrated(
  file: ProjectFile,
  calibration: ProjectFile | undefined,
): Measurement & AsMeasured {
  const raw = measurementOf(file);
  const measurement = { ...raw, asMeasured: raw.curve };
  if (!calibration) return measurement;
  const read = calibrationOf(calibration);
  const { curve, warnings } = inFile(file.name, () => applyCalibration(measurement.curve, read.curve));
  return { ...measurement, curve, warnings: [...measurement.warnings, ...read.warnings, ...warnings] };
}

function readingAs({ name, gate, channel }: ProjectFile): MeasurementReading {
  return {
    ...(gate !== undefined && { gate: readGate(gate, `${name}: what counts of it`) }),
    ...(channel !== undefined && { channel }),
  };
}

function textOf(file: ProjectFile): string {
  if (file.encoding === 'text') return file.content;
  throw new InputError(`${file.name}: found bytes that are no UTF-8 text, expected a file in JSON`);
}

function readingOf(read: Read | InputError): FileReading {
  if (read instanceof InputError) return { warnings: [], problem: read.message };
  switch (read.kind) {
    case 'measurement': {
      const { measurement } = read;
      const simulated = isMarkedSimulated(measurement) ? ', marked as simulated' : '';
      const points = `${measurement.rows} ${measurement.trusted ? 'samples' : 'rows'}`;
      return {
        summary: `${points}, ${spanOf(measurement.curve)}${simulated}`,
        warnings: measurement.warnings.map(({ message }) => message),
      };
    }
    case 'calibration':
      return {
        summary: `${read.text.curve.frequencyHz.length} points, ${spanOf(read.text.curve)}`,
        warnings: read.text.warnings.map(({ message }) => message),
      };
    case 'setup': {
      const names = read.setup.surfaces.map(({ name }) => name);
      return { summary: names.length === 0 ? 'no surfaces' : names.join(', '), warnings: [] };
    }
    case 'device':
      return { summary: `${read.device.name}, ${bandCount(read.device)} bands`, warnings: [] };
    case 'design': {
      const { title, filters } = read.design;
      return {
        summary: `the design of ${title}, ${filters.length} ${filters.length === 1 ? 'filter' : 'filters'}`,
        warnings: [],
      };
    }
  }
}

function spanOf({ frequencyHz }: Curve): string {
  return `${formatFrequency(frequencyHz[0]!)} to ${formatFrequency(frequencyHz.at(-1)!)}`;
}
