import type { ColumnPlan } from './columnPlan.js';
import type { DecimalMark } from './parseDecimal.js';
import type { RowFields } from './rowSplitter.js';

/** The row that is being read: one object for all rows of a file, whose `fields` and `mark` change from row to row. */
export interface Row {
  /** The whole file. */
  readonly text: Uint8Array;
  readonly fields: RowFields;
  readonly plan: ColumnPlan;
  readonly mark: DecimalMark;
}
