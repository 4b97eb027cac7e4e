import type { FilterType } from '../../filter/filter.js';

const NAMES: Record<FilterType, string> = {
  peaking: 'Peaking',
  lowShelf: 'Low shelf',
  highShelf: 'High shelf',
};

/** The type in words, as it stands at the beginning of a table cell. */
export function filterTypeName(type: FilterType): string {
  return NAMES[type];
}
