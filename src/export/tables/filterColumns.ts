import type { Filter } from '../../filter/filter.js';
import { columnDecimals } from '../words/columnDecimals.js';
import { filterTypeName } from '../words/filterTypeName.js';
import type { TextColumn } from '../words/padTable.js';

/** The filters as columns of text, numbered from 1: what the table, the summary and the report all show. */
export function filterColumns(filters: readonly Filter[]): TextColumn[] {
  return [
    { heading: 'No.', align: 'right', cells: filters.map((_, i) => String(i + 1)) },
    { heading: 'Type', align: 'left', cells: filters.map((filter) => filterTypeName(filter.type)) },
    {
      heading: 'Frequency (Hz)',
      align: 'right',
      cells: columnDecimals(
        filters.map((filter) => filter.frequencyHz),
        3,
      ),
    },
    {
      heading: 'Gain (dB)',
      align: 'right',
      cells: columnDecimals(
        filters.map((filter) => filter.gainDb),
        3,
      ),
    },
    {
      heading: 'Q',
      align: 'right',
      cells: columnDecimals(
        filters.map((filter) => filter.q),
        4,
      ),
    },
  ];
}
