import { averagePositions } from '../curve/averagePositions.js';
import type { Curve } from '../curve/curve.js';
import { logGrid } from '../curve/logGrid.js';
import { resampleToGrid } from '../curve/resampleToGrid.js';
import { excessGroupDelayS } from '../impulse/phase/excessPhaseOfCurve.js';
import { InputError } from '../inputError.js';
import { applyCalibration } from '../measurement/applyCalibration.js';
import { inFile } from '../measurement/inFile.js';
import type { Measurement } from '../measurement/measurement.js';
import type { Warning } from '../warning.js';
import { coarseMeasurements } from './coarseMeasurements.js';
import type { MeasuredRequest } from './designRequest.js';
import { onceEach } from './onceEach.js';
import { quietPositions } from './quietPositions.js';
import { sameMeasurements } from './sameMeasurements.js';
import { type TrustedSpan, trustedSpan } from './trustedSpan.js';

/** Grid of the whole pipeline; 48 points an octave resolve a band of Q 10 with seven points. */
const POINTS_PER_OCTAVE = 48;
const FEWEST_POINTS = 16;

export interface PreparedMeasurements {
  /** Power average of the positions on the grid, less `referenceDb`. */
  readonly curve: Curve;
  readonly spreadDb?: Float64Array;
  /** Each position on the grid, where there are several. */
  readonly positions?: readonly Curve[];
  /** All measurements of the first position, where it was measured again. */
  readonly repeats?: readonly Curve[];
  readonly excessGroupDelayS?: Float64Array;
  /** The direct sound alone, averaged in the same way; where all positions are impulse responses that hold it. */
  readonly direct?: { readonly curve: Curve; readonly resolvedFromHz: number };
  /** What follows the direct sound, averaged; where all positions are impulse responses without a strong reflection. */
  readonly laterSound?: Curve;
  /** In the order of the request. */
  readonly moved: readonly Curve[];
  /** Where all positions are to be trusted; everywhere where it is not given. */
  readonly trust?: TrustedSpan;
  /** What was taken off the measurement's own scale. */
  readonly referenceDb: number;
  readonly warnings: readonly Warning[];
}

/**
 * Measurements onto one grid and one scale. The mean level is taken off first and what remains is rounded to a
 * millionth of a dB, so that a measurement shifted by a constant gives the very same numbers from here on.
 */
export function prepareMeasurements(request: MeasuredRequest): PreparedMeasurements {
  const { measurements, moved: elsewhere = [], repeats: again = [] } = request;
  const warnings: Warning[] = [
    ...[...measurements, ...elsewhere, ...again].flatMap((measurement) => measurement.warnings),
    ...(request.warnings ?? []),
    ...coarseMeasurements(request.measurements),
    ...sameMeasurements(request),
  ];
  const trust = trustedSpan(request.measurements);
  const calibrated = (measurement: Measurement): Curve => {
    if (!request.calibration) return measurement.curve;
    const { calibration } = request;
    const result = inFile(measurement.fileName, () => applyCalibration(measurement.curve, calibration));
    warnings.push(...result.warnings);
    return result.curve;
  };
  const curves = request.measurements.map(calibrated);
  const referenceDb = curves[0] ? meanOf(curves[0].levelDb) : 0;
  const grid = commonGrid(curves, request.measurements);
  const onGrid = curves.map((curve) => resampleToGrid(lowered(curve, referenceDb), grid));
  warnings.push(
    ...quietPositions(
      onGrid,
      request.measurements.map(({ fileName }) => fileName),
    ),
  );
  const { curve, spreadDb } = averagePositions(onGrid);
  const single = onGrid.length === 1 ? onGrid[0] : undefined;
  const repeats = again.map((measurement) => {
    const repeated = calibrated(measurement);
    return rounded(resampleToGrid(lowered(repeated, meanOf(repeated.levelDb)), grid));
  });
  const moved = elsewhere.map((measurement) => {
    const other = calibrated(measurement);
    return rounded(resampleToGrid(lowered(other, meanOf(other.levelDb)), grid));
  });
  return {
    curve: rounded(curve),
    ...(onGrid.length > 1 && { spreadDb, positions: onGrid.map(rounded) }),
    ...(repeats.length > 0 && { repeats: [rounded(onGrid[0]!), ...repeats] }),
    ...(single?.phaseRad && { excessGroupDelayS: excessGroupDelayS(single) }),
    ...directOf(request.measurements, grid, calibrated),
    ...laterSoundOf(request.measurements),
    moved,
    ...(trust && { trust }),
    referenceDb,
    warnings: onceEach(warnings),
  };
}

function directOf(
  measurements: readonly Measurement[],
  grid: Float64Array,
  calibrated: (measurement: Measurement) => Curve,
): Pick<PreparedMeasurements, 'direct'> {
  const parts = measurements.flatMap((measurement) =>
    measurement.direct
      ? [{ ...measurement.direct, curve: calibrated({ ...measurement, curve: measurement.direct.curve }) }]
      : [],
  );
  if (parts.length === 0 || parts.length < measurements.length) return {};
  const resolvedFromHz = Math.max(...parts.map((part) => part.resolvedFromHz));
  const onGrid = parts.map(({ curve }) => resampleToGrid(lowered(curve, meanOf(curve.levelDb)), grid));
  return { direct: { curve: rounded(averagePositions(onGrid).curve), resolvedFromHz } };
}

/** A level relative to the direct sound's own in the same band, so that a calibration changes nothing. */
function laterSoundOf(measurements: readonly Measurement[]): Pick<PreparedMeasurements, 'laterSound'> {
  const parts = measurements.flatMap(({ laterSound }) => (laterSound ? [laterSound] : []));
  if (parts.length === 0 || parts.length < measurements.length) return {};
  return { laterSound: rounded(averagePositions(parts).curve) };
}

function commonGrid(curves: readonly Curve[], measurements: readonly Measurement[]): Float64Array {
  const fromHz = Math.max(...curves.map((curve) => curve.frequencyHz[0]!));
  const toHz = Math.min(...curves.map((curve) => curve.frequencyHz.at(-1)!));
  const grid = fromHz < toHz ? logGrid(fromHz, toHz, POINTS_PER_OCTAVE) : new Float64Array(0);
  if (grid.length >= FEWEST_POINTS) return grid;
  const spans = measurements.map(
    ({ fileName }, i) => `${fileName} ${curves[i]!.frequencyHz[0]!} to ${curves[i]!.frequencyHz.at(-1)!} Hz`,
  );
  throw new InputError(
    `the measurements must share at least a third of an octave of frequency; found ${spans.join('; ')}`,
  );
}

function lowered(curve: Curve, byDb: number): Curve {
  return { ...curve, levelDb: curve.levelDb.map((db) => db - byDb) };
}

function rounded({ frequencyHz, levelDb }: Curve): Curve {
  return { frequencyHz, levelDb: levelDb.map((db) => Math.round(db * 1e6) / 1e6) };
}

function meanOf(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
