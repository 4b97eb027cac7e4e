import type { FrequencyRange } from '../curve/curve.js';
import { type Diagnosis, diagnose } from '../diagnosis/diagnose.js';
import type { Warning } from '../warning.js';
import { chooseRange } from './chooseRange.js';
import type { MeasuredRequest } from './designRequest.js';
import { type PreparedMeasurements, prepareMeasurements } from './prepareMeasurements.js';

export interface DiagnosedMeasurements {
  readonly prepared: PreparedMeasurements;
  readonly range: FrequencyRange;
  readonly cornerHz?: number;
  readonly boostFromHz?: number;
  /** Where the ends of the range were taken from. */
  readonly rangeExplanation: string;
  readonly diagnosis: Diagnosis;
  readonly warnings: readonly Warning[];
}

/** From raw measurements to findings: the first half of a design, and all of a diagnosis. */
export function diagnoseMeasurements(request: MeasuredRequest, sampleRateHz: number): DiagnosedMeasurements {
  const prepared = prepareMeasurements(request);
  const { range, cornerHz, boostFromHz, explanation, warnings } = chooseRange(
    prepared.curve,
    request,
    sampleRateHz,
  );
  const diagnosis = diagnose({
    curve: prepared.curve,
    range,
    ...(prepared.spreadDb && { spreadDb: prepared.spreadDb }),
    ...(prepared.excessGroupDelayS && { excessGroupDelayS: prepared.excessGroupDelayS }),
    ...(request.setup && { setup: request.setup }),
    ...(prepared.moved.length > 0 && { moved: prepared.moved }),
  });
  return {
    prepared,
    range,
    ...(cornerHz !== undefined && { cornerHz }),
    ...(boostFromHz !== undefined && { boostFromHz }),
    rangeExplanation: explanation,
    diagnosis,
    warnings: [...prepared.warnings, ...warnings, ...diagnosis.warnings],
  };
}
