import { describe, expect, test } from 'vitest';
import { describeTarget } from '../../src/target/describeTarget.js';
import type { TargetRequest } from '../../src/target/targetRequest.js';
import { targetShapeDb } from '../../src/target/targetShapeDb.js';

const at = (target: TargetRequest, ...hz: number[]) =>
  Array.from(targetShapeDb(target, Float64Array.from(hz)));
const breakpoints = (...rows: [number, number][]) => ({
  frequencyHz: Float64Array.from(rows, ([hz]) => hz),
  levelDb: Float64Array.from(rows, ([, db]) => db),
});

describe('a target', () => {
  test('with nothing in it is flat', () => {
    expect(at({}, 10, 100, 1000, 20000)).toEqual([0, 0, 0, 0]);
  });

  test('with a bass shelf has half its gain at its frequency, all of it far below, none far above', () => {
    for (const [gain, hz] of [
      [6, 120],
      [-4, 80],
      [3, 400],
    ] as const) {
      const [middle, low, high] = at({ bassShelfDb: gain, bassShelfFrequencyHz: hz }, hz, hz / 64, hz * 40);
      expect(middle).toBeCloseTo(gain / 2, 3);
      expect(low).toBeCloseTo(gain, 2);
      expect(high).toBeCloseTo(0, 2);
    }
  });

  test('has its bass shelf at 120 Hz where nothing else is said', () => {
    expect(at({ bassShelfDb: 4 }, 120)[0]).toBeCloseTo(2, 3);
  });

  test('has a shelf that rises all the way, without overshoot', () => {
    const hz = Array.from({ length: 200 }, (_, i) => 10 * 2000 ** (i / 199));
    const shelf = at({ bassShelfDb: 5 }, ...hz);
    shelf.forEach((db, i) => {
      if (i > 0) expect(db).toBeLessThanOrEqual(shelf[i - 1]! + 1e-9);
    });
  });

  test('with a tilt turns about 1 kHz by so many dB an octave', () => {
    expect(at({ tiltDbPerOctave: -0.8 }, 1000, 2000, 250, 16000)).toEqual([0, -0.8, 1.6, -3.2]);
  });

  test('of breakpoints goes through them, straight over log frequency between them, level beyond, 0 dB at 1 kHz', () => {
    const target = { breakpoints: breakpoints([100, 83], [1000, 80], [4000, 78]) };
    const [below, first, between, middle, upper, last, beyond] = at(
      target,
      20,
      100,
      Math.sqrt(100 * 1000),
      1000,
      2000,
      4000,
      20000,
    );
    expect(first).toBeCloseTo(3, 9);
    expect(below).toBeCloseTo(3, 9);
    expect(between).toBeCloseTo(1.5, 9);
    expect(middle).toBeCloseTo(0, 9);
    expect(upper).toBeCloseTo(-1, 9);
    expect(last).toBeCloseTo(-2, 9);
    expect(beyond).toBeCloseTo(-2, 9);
  });

  test('does not depend on the level on which its breakpoints were drawn', () => {
    const rows = [[50, 4] as const, [500, 1] as const, [8000, -3] as const];
    const drawn = (offset: number) =>
      at(
        { breakpoints: breakpoints(...rows.map(([hz, db]): [number, number] => [hz, db + offset])) },
        30,
        700,
        9000,
      );
    drawn(85).forEach((db, i) => {
      expect(db).toBeCloseTo(drawn(0)[i]!, 9);
    });
  });

  test('is the sum of its parts', () => {
    const parts = {
      breakpoints: breakpoints([100, 2], [1000, 0], [10000, -1]),
      bassShelfDb: 3,
      tiltDbPerOctave: -1,
    };
    const hz = [40, 120, 900, 5000];
    const whole = at(parts, ...hz);
    const sums = [
      at({ breakpoints: parts.breakpoints }, ...hz),
      at({ bassShelfDb: 3 }, ...hz),
      at({ tiltDbPerOctave: -1 }, ...hz),
    ];
    whole.forEach((db, i) => {
      expect(db).toBeCloseTo(
        sums.reduce((sum, part) => sum + part[i]!, 0),
        9,
      );
    });
  });
});

test('a target is told in words', () => {
  expect(describeTarget({})).toBe('flat');
  expect(describeTarget({ bassShelfDb: 3 })).toBe('flat, bass shelf +3 dB below 120 Hz');
  expect(describeTarget({ bassShelfDb: -2, bassShelfFrequencyHz: 80, tiltDbPerOctave: -0.8 })).toBe(
    'flat, bass shelf −2 dB below 80 Hz, tilt −0.8 dB per octave',
  );
  expect(describeTarget({ breakpoints: breakpoints([20, 0], [20000, 0]) })).toBe('breakpoints (2)');
});
