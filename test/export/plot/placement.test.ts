import fc from 'fast-check';
import { expect, test } from 'vitest';
import { placeMarks } from '../../../src/export/plot/placeMarks.js';
import { spreadLabels } from '../../../src/export/plot/spreadLabels.js';

const seed = { seed: 7311 };

test('labels neither overlap nor leave the drawing, and stay centred where they fit', () => {
  const wish = fc.record({
    center: fc.double({ min: 0, max: 900, noNaN: true }),
    width: fc.integer({ min: 20, max: 90 }),
  });
  fc.assert(
    fc.property(fc.array(wish, { maxLength: 25 }), (wishes) => {
      const places = spreadLabels(wishes, 0, 900, 6);
      places.forEach((place, i) => {
        const { center, width } = wishes[i]!;
        expect(place.center - width / 2).toBeGreaterThanOrEqual(-1e-9);
        expect(place.center + width / 2).toBeLessThanOrEqual(900 + 1e-9);
        if (center >= width / 2 && center <= 900 - width / 2) expect(place.center).toBe(center);
        places.slice(0, i).forEach((other, j) => {
          if (other.row !== place.row) return;
          const gap = Math.abs(other.center - place.center) - (wishes[j]!.width + width) / 2;
          expect(gap).toBeGreaterThanOrEqual(6 - 1e-9);
        });
      });
    }),
    seed,
  );
});

test('one label alone takes the row next to what it names', () => {
  expect(spreadLabels([{ center: 100, width: 50 }], 0, 900, 6)).toEqual([{ center: 100, row: 0 }]);
});

test('marks do not touch one another and stay inside the panel while there is room', () => {
  const wish = fc.record({
    x: fc.double({ min: 0, max: 900, noNaN: true }),
    y: fc.double({ min: -50, max: 450, noNaN: true }),
    side: fc.constantFrom('above' as const, 'below' as const),
  });
  fc.assert(
    fc.property(fc.array(wish, { maxLength: 20 }), (wishes) => {
      const places = placeMarks(wishes, 19, 0, 400);
      places.forEach((place, i) => {
        expect(place.x).toBe(wishes[i]!.x);
        expect(place.y).toBeGreaterThanOrEqual(9.5);
        expect(place.y).toBeLessThanOrEqual(390.5);
        for (const other of places.slice(0, i)) {
          expect(Math.hypot(place.x - other.x, place.y - other.y)).toBeGreaterThanOrEqual(19 - 1e-9);
        }
      });
    }),
    seed,
  );
});

test('a mark with nothing near it stays where it wants to be', () => {
  expect(placeMarks([{ x: 50, y: 100, side: 'above' }], 19, 0, 400)).toEqual([{ x: 50, y: 100 }]);
});
