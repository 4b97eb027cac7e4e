import {
  inverseSweepParameters,
  type SweepParameters,
  sweepCautions,
} from '../impulse/sweep/sweepParameters.js';
import type { SweepReport } from '../schema/sweep.js';

/** A sweep, what undoes it, and what to mind before it is played. */
export function sweepReport(sweep: SweepParameters): SweepReport {
  const { timeConstantS, fallDb, harmonicLeadS } = inverseSweepParameters(sweep);
  return {
    schemaVersion: 1,
    sweep: { ...sweep },
    inverse: { timeConstantS, fallDb, harmonicLeadS: [...harmonicLeadS] },
    warnings: [...sweepCautions(sweep)],
  };
}
