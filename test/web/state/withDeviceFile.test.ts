import { expect, test } from 'vitest';
import { shippedDevices } from '../../../src/device/profile/shippedDevices.js';
import { withDeviceFile } from '../../../web/state/withDeviceFile.js';
import { parseProject } from '../../../web/store/project.js';
import { readJob } from '../../../web/work/readJob.js';

const curve = Array.from({ length: 40 }, (_, i) => `${100 * 1.1 ** i} ${80 + Math.sin(i)}`).join('\n');
const own = { ...shippedDevices[1]!, name: 'of my own' };

const opened = (more: readonly object[] = []) =>
  withDeviceFile(
    parseProject(
      JSON.stringify({
        schemaVersion: 1,
        name: 'written by hand',
        files: [{ name: 'one.txt', role: 'position', encoding: 'text', content: curve }, ...more],
        options: { device: 'five-band-48k', maxBoost: 4 },
        overrules: [],
      }),
      'hand.json',
    ),
  );

const job = ({ files, options }: ReturnType<typeof opened>) =>
  readJob({ files, options, overrules: [], held: [] });

test('a worksheet that names a device of the program is read with that device', () => {
  const { request, problems } = job(opened());
  expect(problems).toEqual([]);
  expect(request?.device).toEqual(shippedDevices.find(({ name }) => name === 'five-band-48k'));
  expect(request?.maxBoostDb).toBe(4);
});

test('a device file goes before the name', () => {
  const { coefficients: _, ...device } = own;
  const file = { name: 'own.json', role: 'device', encoding: 'text', content: JSON.stringify(device) };
  expect(job(opened([file])).request?.device?.name).toBe('of my own');
});
