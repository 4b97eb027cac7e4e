import { describe, expect, test } from 'vitest';
import { logGrid } from '../../src/curve/logGrid.js';
import { design } from '../../src/design.js';
import { shippedDevices } from '../../src/device/profile/shippedDevices.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { DesignRequest } from '../../src/pipeline/designRequest.js';
import { bell, curveOf, measurementOf, requestOf, sum } from './samples.js';

/** A step with a bump and a dip beside it, which a sharp shelf mends, between two peaks. */
const step = (hz: number) => -4 / (1 + (hz / 900) ** 6);
const response = sum(step, bell(900, 3, 3), bell(200, 4, 2), bell(5000, 5, 1.5));
const limited = (more: Partial<DesignRequest> = {}) =>
  design(requestOf(measurementOf(curveOf(response)), { bands: 5, ...more }));
const shelvesOf = ({ filters }: ReturnType<typeof design>) =>
  filters.filter(({ type }) => type !== 'peaking');

describe('a greatest Q of shelves', () => {
  test('holds for every shelf, and leaves the peaks what they had', () => {
    const free = limited();
    expect(Math.max(...shelvesOf(free).map(({ q }) => q))).toBeGreaterThan(1);
    expect(free.limits).not.toHaveProperty('maxShelfQ');
    const made = limited({ maxShelfQ: 0.71 });
    expect(shelvesOf(made).length).toBeGreaterThan(0);
    for (const { q } of shelvesOf(made)) expect(q).toBeLessThanOrEqual(0.71);
    expect(Math.max(...made.filters.map(({ q }) => q))).toBeGreaterThan(1);
    expect(made.limits).toMatchObject({ maxQ: 10, maxShelfQ: 0.71 });
  });

  // Audio EQ Cookbook (W3C Group Note): slope 1, Q = 1/√2, is the steepest shelf that rises or falls all the way.
  test('of 0.7 lets no shelf overshoot', () => {
    const hz = logGrid(20, 20000, 96);
    for (const shelf of shelvesOf(limited({ maxShelfQ: 0.7 }))) {
      const db = bankResponseDb([shelf], 48000, hz);
      const direction = Math.sign(db.at(-1)! - db[0]!);
      db.slice(1).forEach((value, i) => {
        expect(direction * (value - db[i]!)).toBeGreaterThan(-1e-9);
      });
    }
  });

  test('is kept on the steps of a device', () => {
    const device = shippedDevices.find(({ name }) => name === 'five-band-48k')!;
    for (const { type, q } of limited({ device, maxShelfQ: 0.55 }).filters)
      if (type !== 'peaking') expect(q).toBeLessThanOrEqual(0.55);
  });

  test('that a device can not have is refused by its name', () => {
    const device = { ...shippedDevices.find(({ name }) => name === 'five-band-48k')!, q: { min: 1, max: 8 } };
    expect(() => limited({ device, maxShelfQ: 0.7 })).toThrow(
      /least Q of 1\.00.*above the 0\.7.*--shelf-q-max/,
    );
  });
});
