import { expect, test } from 'vitest';
import { assignSlots } from '../../../src/device/profile/assignSlots.js';
import type { DeviceProfile } from '../../../src/device/profile/deviceProfile.js';

const device = (bands: DeviceProfile['bands']): DeviceProfile => ({
  name: 'bands',
  sampleRatesHz: [48000],
  bands,
  gainDb: { min: -12, max: 6 },
  frequencyHz: { min: 20, max: 20000 },
  q: { min: 0.4, max: 10 },
  qConvention: 'cookbook',
});

test('bands of one kind are numbered as the frequencies rise, those that are not free keep their places', () => {
  const bands: DeviceProfile['bands'] = [
    { types: ['peaking'], count: 3 },
    { types: ['lowShelf', 'highShelf'], count: 1 },
    { types: ['peaking'], count: 2, atHz: [2000, 100] },
  ];
  const filters = [
    { type: 'peaking', frequencyHz: 100 },
    { type: 'peaking', frequencyHz: 300 },
    { type: 'lowShelf', frequencyHz: 500 },
    { type: 'peaking', frequencyHz: 2000 },
    { type: 'peaking', frequencyHz: 5000 },
  ] as const;
  const slots = assignSlots(filters, device(bands));
  const free = filters.flatMap(({ type, frequencyHz }, i) =>
    slots[i]! < 3 ? [{ type, frequencyHz, slot: slots[i]! }] : [],
  );
  expect(free.map(({ slot }) => slot)).toEqual([...free.keys()]);
  expect(slots[2]).toBe(3);
  expect(new Set(slots).size).toBe(filters.length);
});

test('a filter that only one band takes gets it, whatever the order', () => {
  const bands: DeviceProfile['bands'] = [
    { types: ['peaking', 'lowShelf'], count: 1 },
    { types: ['peaking'], count: 1 },
  ];
  const filters = [
    { type: 'peaking', frequencyHz: 100 },
    { type: 'lowShelf', frequencyHz: 200 },
  ] as const;
  expect(assignSlots(filters, device(bands))).toEqual([1, 0]);
});
