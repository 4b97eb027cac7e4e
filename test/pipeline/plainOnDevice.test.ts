import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { design } from '../../src/design.js';
import { shippedDevices } from '../../src/device/profile/shippedDevices.js';
import { bandsFromFilters } from '../../src/fit/bank/bands.js';
import { opposition } from '../../src/fit/objective/opposition.js';
import { fitGrid } from '../../src/fit/problem/fitGrid.js';
import { readMeasurement } from '../../src/measurement/readMeasurement.js';
import { readSetup } from '../../src/schema/setup.js';
import { problemOf } from '../fit/problems.js';
import { requestOf } from './samples.js';

/** The simulated speaker of the demo asks for a cut at 5.6 kHz, between two third octaves of the device. */
test('a device without the frequency asked for is not given its neighbours against each other', () => {
  const folder = new URL('../../fixtures/demo/', import.meta.url);
  const positions = readdirSync(folder)
    .filter((name) => name.startsWith('position-'))
    .map((name) => readMeasurement(readFileSync(new URL(name, folder)), name));
  const device = shippedDevices.find(({ name }) => name === 'five-band-48k')!;
  const setup = readSetup(readFileSync(new URL('setup.json', folder), 'utf8'), 'setup.json');
  const { filters, error } = design(requestOf(positions, { device, setup }));
  const { pairs } = opposition(fitGrid(problemOf({ deviationDb: (hz) => hz }), 1), bandsFromFilters(filters));
  expect(error.afterRmsDb).toBeLessThan(0.6);
  expect(filters.length).toBeGreaterThan(4);
  for (const { cancelledDb, bands } of pairs) {
    const both = bands.every((i) => filters[i]!.type === 'peaking');
    if (both) expect(cancelledDb).toBeLessThan(1);
  }
});
