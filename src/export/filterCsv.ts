import type { Design } from '../schema/design.js';
import { csvField } from './csvField.js';
import { filterTypeName } from './filterTypeName.js';

const HEADER = ['number', 'type', 'frequency (Hz)', 'gain (dB)', 'Q [cookbook]'];

/**
 * `filters.csv`: one row a filter under a header with units, RFC 4180 (comma, CRLF), no comments, decimal point;
 * the convention stands in the heading of the Q.
 * Numbers are written with every digit that the design holds.
 */
export function filterCsv(design: Design): string {
  const rows = design.filters.map((filter, i) => [
    String(i + 1),
    filterTypeName(filter.type),
    String(filter.frequencyHz),
    String(filter.gainDb),
    String(filter.q),
  ]);
  return [HEADER, ...rows].map((row) => `${row.map(csvField).join(',')}\r\n`).join('');
}
