import { describe, expect, test } from 'vitest';
import { bankResponseDb } from '../../../src/filter/bankResponseDb.js';
import {
  type Bands,
  bandsFromFilters,
  filtersFromBands,
  HIGH_SHELF,
  LOW_SHELF,
  PEAKING,
} from '../../../src/fit/bank/bands.js';
import { bandOfRoots, misfit, polesOf, type RootPair, zerosOf } from '../../../src/fit/bank/roots.js';

type Complex = readonly [number, number];
const times = ([a, b]: Complex, [c, d]: Complex): Complex => [a * c - b * d, a * d + b * c];

/** a s² + b s + c at one of the pair. */
function quadratic([a, b, c]: readonly [number, number, number], { lnF, lnQ }: RootPair): number {
  const [omega, damping] = [Math.exp(lnF), 1 / (2 * Math.exp(lnQ))];
  const s: Complex = [-omega * damping, omega * Math.sqrt(1 - damping ** 2)];
  const [re, im] = times(s, s);
  return Math.hypot(a * re + b * s[0] + c, a * im + b * s[1]);
}

const oneBand = (type: number, lnF: number, gainDb: number, lnQ: number): Bands => ({
  types: Uint8Array.of(type),
  values: Float64Array.of(lnF, gainDb, lnQ),
});

describe.each([
  [PEAKING, 'peaking'],
  [LOW_SHELF, 'low shelf'],
  [HIGH_SHELF, 'high shelf'],
] as const)('zeros and poles of type %i, %s', (type) => {
  test.each([9, -6])(
    'are those of the analogue prototypes of the Audio EQ Cookbook (W3C Note), %f dB',
    (gainDb) => {
      const q = 3;
      const a = 10 ** (gainDb / 40);
      const bent = Math.sqrt(a) / q;
      // Numerators and denominators as the Note writes them, s scaled to the band's frequency.
      const [zeros, poles] = (
        {
          [PEAKING]: [
            [1, a / q, 1],
            [1, 1 / (a * q), 1],
          ],
          [LOW_SHELF]: [
            [1, bent, a],
            [a, bent, 1],
          ],
          [HIGH_SHELF]: [
            [a, bent, 1],
            [1, bent, a],
          ],
        } as const
      )[type];
      const band = oneBand(type, 0, gainDb, Math.log(q));
      expect(quadratic(zeros, zerosOf(band, 0))).toBeLessThan(1e-12);
      expect(quadratic(poles, polesOf(band, 0))).toBeLessThan(1e-12);
      expect(quadratic(zeros, polesOf(band, 0))).toBeGreaterThan(0.1);
    },
  );

  test('make the band again, with nothing left out', () => {
    const band = oneBand(type, Math.log(440), -7.5, Math.log(1.7));
    const made = bandOfRoots(type, zerosOf(band, 0), polesOf(band, 0));
    made.forEach((value, n) => {
      expect(value).toBeCloseTo(band.values[n]!, 12);
    });
    expect(misfit(type, zerosOf(band, 0), polesOf(band, 0))).toBeLessThan(1e-12);
  });
});

test('two shelves against each other are two peaks against each other, but for a constant', () => {
  const shelves = bandsFromFilters([
    { type: 'lowShelf', frequencyHz: 90, gainDb: 14, q: 2 },
    { type: 'lowShelf', frequencyHz: 90, gainDb: -14, q: 4 },
  ]);
  const peaks = [
    oneBand(PEAKING, ...bandOfRoots(PEAKING, zerosOf(shelves, 0), polesOf(shelves, 1))),
    oneBand(PEAKING, ...bandOfRoots(PEAKING, zerosOf(shelves, 1), polesOf(shelves, 0))),
  ].flatMap(filtersFromBands);
  const hz = Float64Array.from({ length: 200 }, (_, k) => 20 * 1.02 ** k);
  const asShelves = bankResponseDb(filtersFromBands(shelves), 192000, hz);
  const asPeaks = bankResponseDb(peaks, 192000, hz);
  const apart = asShelves.map((db, k) => db - asPeaks[k]!);
  expect(Math.max(...apart) - Math.min(...apart)).toBeLessThan(0.001);
  expect(Math.max(...asShelves) - Math.min(...asShelves)).toBeGreaterThan(3);
});
