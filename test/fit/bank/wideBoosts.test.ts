import { expect, test } from 'vitest';
import { PEAKING } from '../../../src/fit/bank/bands.js';
import { boundsOf, clampBands } from '../../../src/fit/bank/bounds.js';
import { EFFORTS } from '../../../src/fit/effort.js';
import { fitFilters } from '../../../src/fit/fitFilters.js';
import { seededRandom } from '../../../src/fit/seededRandom.js';
import { problemOf } from '../problems.js';

const wideBoosts = { maxQ: 3, spans: [{ fromHz: 1800, toHz: 2200 }] };
/** Two peaks with a narrow dip between them, and another dip as narrow elsewhere. */
const deviationDb = (hz: Float64Array) =>
  hz.map((f) => {
    const octaves = (centre: number) => Math.log2(f / centre);
    return (
      3 * Math.exp(-((1.5 * octaves(2000)) ** 2)) -
      6 * Math.exp(-((12 * octaves(2000)) ** 2)) -
      6 * Math.exp(-((12 * octaves(300)) ** 2))
    );
  });
const narrowBoosts = (limits: object) =>
  fitFilters(problemOf({ deviationDb, limits: { maxBands: 5, ...limits } }), {
    random: seededRandom(3),
    effort: EFFORTS.normal,
  }).filters.filter(({ type, gainDb, q }) => type === 'peaking' && gainDb > 0 && q > wideBoosts.maxQ);

test('what boosts in such a span boosts broadly, elsewhere as narrowly as it wins', () => {
  const inSpan = (hz: number) => hz >= 1800 && hz <= 2200;
  expect(narrowBoosts({}).some(({ frequencyHz }) => inSpan(frequencyHz))).toBe(true);
  const held = narrowBoosts({ wideBoosts });
  expect(held.filter(({ frequencyHz }) => inSpan(frequencyHz))).toEqual([]);
  expect(held.some(({ frequencyHz }) => Math.abs(Math.log2(frequencyHz / 300)) < 0.05)).toBe(true);
});

test('only the Q of peaks that boost there is drawn in', () => {
  const { limits } = problemOf({ deviationDb, limits: { wideBoosts } });
  const qAt = (hz: number, gainDb: number, type = PEAKING) =>
    Math.exp(
      clampBands(
        { types: Uint8Array.of(type), values: Float64Array.of(Math.log(hz), gainDb, Math.log(8)) },
        boundsOf(limits),
      ).values[2]!,
    );
  expect(qAt(2000, 2)).toBeCloseTo(3, 9);
  expect(qAt(2000, -2)).toBeCloseTo(8, 9);
  expect(qAt(2300, 2)).toBeCloseTo(8, 9);
});
