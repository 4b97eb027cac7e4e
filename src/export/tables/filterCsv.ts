import { conventionFor } from '../../filter/qConventions.js';
import type { Design } from '../../schema/design.js';
import { filterTypeName } from '../words/filterTypeName.js';
import { csvField } from './csvField.js';
import { wholeBankFields, wholeBankHeader } from './wholeBankFields.js';

const HEADER = ['number', 'type', 'frequency (Hz)', 'gain (dB)', 'Q [cookbook]'];

/**
 * `filters.csv`: one row a filter under a header with units, RFC 4180 (comma, CRLF), no comments, decimal point;
 * the convention stands in the heading of the Q.
 * Numbers are written with every digit that the design holds. For a device, its band follows, and where its Q is not
 * the cookbook's, what to enter there, with its convention in each row. The sample rate and the input gain of the whole bank end each row.
 */
export function filterCsv(design: Design): string {
  const forDevice = deviceFields(design);
  const rows = design.filters.map((filter, i) => [
    String(i + 1),
    filterTypeName(filter.type),
    String(filter.frequencyHz),
    String(filter.gainDb),
    String(filter.q),
    ...(forDevice?.(i) ?? []),
    ...wholeBankFields(design),
  ]);
  return [[...HEADER, ...deviceHeader(design), ...wholeBankHeader], ...rows]
    .map((row) => `${row.map(csvField).join(',')}\r\n`)
    .join('');
}

function deviceHeader({ device, deviceSettings }: Design): string[] {
  if (!device || !deviceSettings) return [];
  return device.qConvention === 'cookbook' ? ['band'] : ['band', 'to enter', 'meaning of what to enter'];
}

function deviceFields({ device, deviceSettings }: Design): ((i: number) => string[]) | undefined {
  if (!device || !deviceSettings) return undefined;
  return (i) => {
    const { band, type, q } = deviceSettings[i]!;
    if (device.qConvention === 'cookbook') return [String(band)];
    const { name, unit } = conventionFor(device.qConvention, type);
    return [String(band), String(q), unit === '' ? name : `${name} (${unit})`];
  };
}
