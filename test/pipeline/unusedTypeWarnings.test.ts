import { expect, test } from 'vitest';
import { design } from '../../src/design.js';
import type { DeviceProfile } from '../../src/device/profile/deviceProfile.js';
import { shippedDevices } from '../../src/device/profile/shippedDevices.js';
import { EFFORTS } from '../../src/fit/effort.js';
import { bell, curveOf, measurementOf, requestOf, sum } from './samples.js';

const response = sum(bell(200, 5, 2), bell(1500, -3, 3), (hz) => 4 / (1 + (hz / 5000) ** 4));
const hertz: DeviceProfile = {
  ...shippedDevices.find(({ name }) => name === 'five-band-48k')!,
  name: 'in-hertz',
  q: { min: 20, max: 3000, step: 10 },
  qConvention: 'bandwidthHz',
};

function made(device: DeviceProfile, maxQ = 10) {
  const request = requestOf(measurementOf(curveOf(response)), { bands: 5, device, maxQ });
  const { warnings, filters } = design(request, { effort: EFFORTS.quick });
  return {
    messages: warnings.flatMap(({ code, message }) => (code === 'device-type-unusable' ? [message] : [])),
    shelves: filters.filter(({ type }) => type !== 'peaking'),
    filters,
  };
}

test('says which bands of a device are not used since it has none of the Qs allowed', () => {
  const { messages, shelves, filters } = made(hertz);
  expect(messages).toEqual([
    'Device "in-hertz": its shelves are not used: as "bandwidthHz" its values make them a Q from 20.0 to 3000 ' +
      '(cookbook), and 0.4 to 10 are allowed (--q-min, --q-max, --shelf-q-max).',
  ]);
  expect(shelves).toEqual([]);
  expect(filters.length).toBeGreaterThan(2);
});

test('says nothing where they can be used', () => {
  expect(made(hertz, 30).messages).toEqual([]);
  for (const device of shippedDevices) expect(made(device).messages).toEqual([]);
});
