import type { DiagnosisReport } from '../schema/diagnosis.js';
import { DEFAULT_LIMITS, type MeasuredRequest } from './designRequest.js';
import { diagnoseMeasurements } from './diagnoseMeasurements.js';
import { roundFinding, roundRange } from './rounding.js';

/**
 * Findings without a fit.
 *
 * @throws InputError where the request asks for what the data do not hold
 */
export function diagnosisReport(request: MeasuredRequest): DiagnosisReport {
  const { range, diagnosis, warnings } = diagnoseMeasurements(request, DEFAULT_LIMITS.sampleRateHz);
  return {
    schemaVersion: 1,
    title: request.title,
    range: roundRange(range),
    findings: diagnosis.findings.map(roundFinding),
    ...(diagnosis.notes.length > 0 && { notes: [...diagnosis.notes] }),
    warnings: [...warnings],
  };
}
