import { INCH_M } from './unitTables.js';

/** "29 cm", "29.5 cm", "11.4 in": to a tenth, as a tape is read. */
export function formatLength(m: number, unit: 'cm' | 'in'): string {
  const value = unit === 'in' ? m / INCH_M : m * 100;
  const rounded = Math.round(value * 10) / 10;
  return `${rounded === 0 ? 0 : rounded} ${unit}`;
}
