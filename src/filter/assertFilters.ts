import type { Filter } from './filter.js';

/**
 * Stops on numbers that no filter can have, which searches would otherwise turn into a harmless-looking result.
 *
 * @throws RangeError naming the filter (counted from 0), the number and what was expected
 */
export function assertFilters(filters: readonly Filter[]): void {
  filters.forEach(({ frequencyHz, gainDb, q }, i) => {
    if (!Number.isFinite(frequencyHz)) refuse(i, 'frequencyHz', 'a finite number', frequencyHz);
    if (!Number.isFinite(gainDb)) refuse(i, 'gainDb', 'a finite number', gainDb);
    if (!(q > 0 && Number.isFinite(q))) refuse(i, 'q', 'positive and finite', q);
  });
}

function refuse(index: number, name: string, expected: string, received: number): never {
  throw new RangeError(`filters[${index}].${name} must be ${expected}; received ${received}`);
}
