import { expect, test } from 'vitest';
import type { Filter } from '../../src/filter/filter.js';
import { verifyDesign } from '../../src/verify/verifyDesign.js';
import { designOf, measuredWith } from './smallRoom.js';

/** A broad cut and a boost within it, as a fit makes them of a curve with a shoulder. */
const filters: readonly Filter[] = [
  { type: 'peaking', frequencyHz: 180, gainDb: -3.4, q: 2 },
  { type: 'peaking', frequencyHz: 1470, gainDb: -5.6, q: 0.4 },
  { type: 'peaking', frequencyHz: 2260, gainDb: 5.4, q: 1.24 },
];

test.each([2, 3, 4])(
  'a missing filter and another of wrong sign that hide each other are both named (noise %i)',
  (seed) => {
    const { gainDb } = filters[2]!;
    const after = measuredWith([filters[0]!, { ...filters[2]!, gainDb: -gainDb }], { seed });
    const { faults } = verifyDesign({ design: designOf(filters), after });
    const named = faults.map(({ type, filter }) => `${type} ${filter}`).sort();
    expect(named).toEqual(['filterMissing 1', 'gainSign 2']);
    for (const { explains } of faults) expect(explains).toBeGreaterThan(0.05);
    expect(faults.reduce((sum, { explains }) => sum + explains, 0)).toBeLessThanOrEqual(1);
  },
);
