import { expect, test } from 'vitest';
import { HIGH_SHELF, LOW_SHELF, PEAKING } from '../../../src/fit/bank/bands.js';
import { boundsOf } from '../../../src/fit/bank/bounds.js';
import { calmSpace } from '../../../src/fit/search/calmSpace.js';
import { seededRandom } from '../../../src/fit/seededRandom.js';
import { cookbookLevelDb, denseHz } from '../independentCheck.js';
import { LIMITS } from '../problems.js';

const NAMES = ['peaking', 'lowShelf', 'highShelf'] as const;
const spaceOf = (limits: Partial<typeof LIMITS>) => ({
  bounds: boundsOf({ ...LIMITS, ...limits }),
  types: [PEAKING, LOW_SHELF, HIGH_SHELF],
});

test('no bank within calm bounds rises above 0 dB anywhere', () => {
  const { bounds, types } = calmSpace(spaceOf({}))!;
  const random = seededRandom(11);
  const between = (from: number, to: number) => from + (to - from) * random();
  for (let trial = 0; trial < 40; trial++) {
    const filters = Array.from({ length: 4 }, () => {
      const type = types[Math.floor(types.length * random())]!;
      const { peakingLower, peakingUpper, shelfLower, shelfUpper } = bounds;
      const [lowerEnds, upper] = type === PEAKING ? [peakingLower, peakingUpper] : [shelfLower, shelfUpper];
      const [lnF, gainDb, lnQ] = lowerEnds.map((lower, n) => between(lower, upper[n]!));
      return { type: NAMES[type]!, frequencyHz: Math.exp(lnF!), gainDb: gainDb!, q: Math.exp(lnQ!) };
    });
    const highest = Math.max(...denseHz(48000).map((hz) => cookbookLevelDb(filters, 48000, hz)));
    expect(highest).toBeLessThan(1e-9);
  }
});

test('where the least Q leaves no calm shelf there are peaks only, and without any cut nothing', () => {
  expect(calmSpace(spaceOf({ minQ: 1 }))!.types).toEqual([PEAKING]);
  expect(calmSpace(spaceOf({ maxCutDb: 0 }))).toBeUndefined();
});
