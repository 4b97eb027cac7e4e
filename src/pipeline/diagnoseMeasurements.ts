import { setupWarnings } from '../acoustics/setupWarnings.js';
import type { Curve, FrequencyRange } from '../curve/curve.js';
import { sliceCurve } from '../curve/sliceCurve.js';
import { type Diagnosis, diagnose } from '../diagnosis/diagnose.js';
import type { DiagnosisInput } from '../diagnosis/scene/diagnosisInput.js';
import { pow2 } from '../elementary/exponential.js';
import type { Measurement } from '../measurement/measurement.js';
import { smoothingWidth } from '../measurement/smoothingWidth.js';
import type { Warning } from '../warning.js';
import { chooseRange } from './chooseRange.js';
import { commonReflections } from './commonReflections.js';
import type { MeasuredRequest } from './designRequest.js';
import { type PreparedMeasurements, prepareMeasurements } from './prepareMeasurements.js';
import { otherPlacements } from './sameMeasurements.js';

/** Measurements put onto one grid, the range chosen from them, and what was found in it. */
export interface DiagnosedMeasurements {
  readonly prepared: PreparedMeasurements;
  readonly range: FrequencyRange;
  readonly cornerHz?: number;
  readonly boostFromHz?: number;
  /** Of what lies below, or above, the range nothing is known: no shelf may reach there. */
  readonly unknownBelow: boolean;
  readonly unknownAbove: boolean;
  /** Where the ends of the range were taken from. */
  readonly rangeExplanation: string;
  readonly diagnosis: Diagnosis;
  readonly warnings: readonly Warning[];
}

/**
 * From raw measurements to findings: the first half of a design, and all of a diagnosis.
 *
 * @param request measurements as `readMeasurement` gives them, levels in dB on any scale
 * @param sampleRateHz rate at which filters would run; the range ends below half of it
 * @throws InputError where the measurements have too little in common, or the range asked for is not in them
 */
export function diagnoseMeasurements(request: MeasuredRequest, sampleRateHz: number): DiagnosedMeasurements {
  const prepared = prepareMeasurements(request);
  const { range, cornerHz, rollOff, boostFromHz, unknownBelow, unknownAbove, explanation, warnings } =
    chooseRange(prepared.curve, request, sampleRateHz, prepared.trust);
  const moved = (request.moved ?? []).map((measurement, i) => ({ measurement, curve: prepared.moved[i]! }));
  const others = otherPlacements(request.measurements, request.moved ?? []);
  const told = moved.filter(({ measurement }) => others.includes(measurement));
  const usable = told.filter(({ measurement }) => reaches(measurement, range));
  const smoothedOverOctaves = widestSmoothing(request.measurements);
  const reflections = commonReflections(request.measurements, request.setup?.temperatureC);
  const diagnosis = diagnose({
    ...onTrusted(
      prepared,
      usable.map(({ curve }) => curve),
    ),
    range,
    ...(smoothedOverOctaves !== undefined && { smoothedOverOctaves }),
    ...(rollOff && { rollOff }),
    ...(reflections && { reflections }),
    ...(prepared.laterSound && { laterSound: prepared.laterSound }),
    ...(request.setup && { setup: request.setup }),
  });
  return {
    prepared,
    range,
    ...(cornerHz !== undefined && { cornerHz }),
    ...(boostFromHz !== undefined && { boostFromHz }),
    unknownBelow,
    unknownAbove,
    rangeExplanation: explanation,
    diagnosis,
    warnings: [
      ...prepared.warnings,
      ...(request.setup ? setupWarnings(request.setup) : []),
      ...warnings,
      ...told.filter((each) => !usable.includes(each)).map(({ measurement }) => notTrusted(measurement)),
      ...diagnosis.warnings,
    ],
  };
}

/** Of several positions the one that was smoothed most bounds what their average shows. */
function widestSmoothing(measurements: readonly Measurement[]): number | undefined {
  const widths = measurements.flatMap(({ curve, comments }) => smoothingWidth(curve, comments) ?? []);
  return widths.length > 0 ? Math.max(...widths) : undefined;
}

/** What a placement fails to show at the ends of the range may be this much. */
const MISSING = pow2(1 / 3);

function reaches({ trusted, resolvedFromHz = 0 }: Measurement, range: FrequencyRange): boolean {
  const { fromHz = 0, toHz = Number.POSITIVE_INFINITY } = trusted ?? {};
  return Math.max(fromHz, resolvedFromHz) <= range.fromHz * MISSING && toHz >= range.toHz / MISSING;
}

function notTrusted({ fileName }: Measurement): Warning {
  return {
    code: 'moved-not-trusted',
    message:
      `${fileName} is resolved, swept and clear of noise over a part of the range only, so it was not compared with the ` +
      'other placement. Measure it again, with a longer gate, a wider sweep or less noise.',
  };
}

/** The grid curves without the ends that are not to be trusted, so that nothing there counts as evidence. */
function onTrusted(
  { curve, spreadDb, excessGroupDelayS, direct, trust }: PreparedMeasurements,
  moved: readonly Curve[],
): Pick<DiagnosisInput, 'curve' | 'spreadDb' | 'excessGroupDelayS' | 'direct' | 'moved'> {
  const cut = (values: Float64Array) =>
    trust ? sliceCurve({ frequencyHz: curve.frequencyHz, levelDb: values }, trust).levelDb : values;
  return {
    curve: trust ? sliceCurve(curve, trust) : curve,
    ...(spreadDb && { spreadDb: cut(spreadDb) }),
    ...(excessGroupDelayS && { excessGroupDelayS: cut(excessGroupDelayS) }),
    ...(direct && {
      direct: { ...direct, curve: trust ? sliceCurve(direct.curve, trust) : direct.curve },
    }),
    ...(moved.length > 0 && { moved: moved.map((each) => (trust ? sliceCurve(each, trust) : each)) }),
  };
}
