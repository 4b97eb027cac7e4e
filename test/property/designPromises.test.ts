import { expect, test } from 'vitest';
import { brokenPromises, randomRequest } from '../evaluate/brokenPromises.js';

// What every design promises, held by whole cases: random speakers in random rooms, with random limits, some for a device.
// NULLWISE_SEED takes others; `tsx test/evaluate/promises.ts` holds hundreds, and at the default effort.
const FIRST = Number(process.env.NULLWISE_SEED ?? 4001);
const COUNT = 10;

test.each(Array.from({ length: COUNT }, (_, i) => FIRST + i))(
  'a random speaker in a random room gets what every design promises: %i',
  (seed) => {
    expect(brokenPromises(randomRequest(seed, 'quick'))).toEqual([]);
  },
);

test('where nothing may be boosted, shelves that overshoot do not take the whole bank with them: 5036', () => {
  expect(brokenPromises(randomRequest(5036, 'quick'))).toEqual([]);
});
