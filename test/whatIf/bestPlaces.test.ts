import { describe, expect, test } from 'vitest';
import { ratePlaces } from '../../src/whatIf/bestPlaces.js';

const axis = Array.from({ length: 19 }, (_, i) => 0.1 + 0.05 * i);

describe('ratePlaces', () => {
  test('finds the valley between the steps, and the lesser one apart from it', () => {
    const valley = (m: number) => Math.min((m - 0.337) ** 2, 0.005 + (m - 0.79) ** 2);
    const { best } = ratePlaces([axis], 25, ([m]) => ({ value: valley(m!), result: m }));
    expect(best[0]!.distancesM[0]).toBeCloseTo(0.337, 1);
    expect(Math.abs(best[0]!.distancesM[0]! - 0.337)).toBeLessThan(0.013);
    expect(best.some(({ distancesM }) => Math.abs(distancesM[0]! - 0.79) < 0.06)).toBe(true);
  });

  test('stays within its budget by and large, on two axes too, and inside the span', () => {
    let looked = 0;
    const { rated } = ratePlaces([axis, axis], 25, ([a, b]) => {
      looked++;
      return { value: a! * b!, result: 0 };
    });
    expect(looked).toBe(rated.length);
    expect(looked).toBeLessThan(60);
    for (const { distancesM } of rated) {
      for (const m of distancesM) expect(m).toBeGreaterThanOrEqual(0.1 - 1e-9);
    }
  });

  test('passes over places that cannot be rated', () => {
    const { best } = ratePlaces([axis], 25, ([m]) => (m! < 0.5 ? undefined : { value: m!, result: m }));
    expect(best[0]!.distancesM[0]).toBeCloseTo(0.5, 2);
  });

  test('rates places that are asked for beside the steps, as far as they lie inside the span', () => {
    // A valley so narrow that no step meets it.
    const narrow = (m: number) => (Math.abs(m - 0.4567) < 0.002 ? 0 : 1 + m);
    const { rated, best } = ratePlaces([axis], 25, ([m]) => ({ value: narrow(m!), result: m }), [
      [0.4567],
      [1.2],
    ]);
    expect(best[0]!.distancesM).toEqual([0.4567]);
    expect(rated.some(({ distancesM }) => distancesM[0]! > 1.01)).toBe(false);
  });
});
