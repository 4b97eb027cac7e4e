import { conventionFor } from '../../filter/qConventions.js';
import type { Design } from '../../schema/design.js';
import { columnDecimals } from '../words/columnDecimals.js';
import type { TextColumn } from '../words/padTable.js';
import { filterColumns } from './filterColumns.js';

/**
 * The filters of a design as columns of text. For a device the first column is the band of the device, and where its
 * Q is not the cookbook's a last one has what to enter there.
 */
export function designColumns(design: Design): TextColumn[] {
  const [number, ...rest] = filterColumns(design.filters);
  const { device, deviceSettings: settings } = design;
  if (!device || !settings) return [number!, ...rest];
  const band = { ...number!, heading: 'Band', cells: settings.map(({ band: slot }) => String(slot)) };
  if (device.qConvention === 'cookbook') return [band, ...rest];
  const cells = columnDecimals(
    settings.map(({ q }) => q),
    4,
  );
  return [
    band,
    ...rest,
    {
      heading: 'To enter',
      align: 'right',
      cells: settings.map(({ type }, i) =>
        `${cells[i]} ${conventionFor(device.qConvention, type).unit}`.trim(),
      ),
    },
  ];
}
