import { CurveTable } from '../../src/export/report/CurveTable.js';
import { shown } from '../state/shown.js';

/** The chart for those who cannot see it. */
export function CurveNumbers() {
  return shown.value ? <CurveTable design={shown.value} /> : null;
}
