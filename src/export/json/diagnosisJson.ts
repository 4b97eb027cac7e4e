import { type DiagnosisReport, diagnosisSchema } from '../../schema/diagnosis.js';
import { stableJson } from './stableJson.js';

/** The same diagnosis always gives the same bytes; a value that is no diagnosis throws. */
export function diagnosisJson(report: DiagnosisReport): string {
  return stableJson(diagnosisSchema.parse(report));
}
