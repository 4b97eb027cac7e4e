import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { shippedDevices } from '../../../src/device/profile/shippedDevices.js';
import { readDevice } from '../../../src/schema/device.js';
import { readSetup } from '../../../src/schema/setup.js';
import { dbAt, eqDbAt, eqYOf, frameOf, hzAt, pathOf, xOf, yOf } from '../../../web/chart/frame.js';
import { guessRole } from '../../../web/intake/guessRole.js';
import { deviceText } from '../../../web/sheet/deviceText.js';
import { fileStem } from '../../../web/sheet/fileStem.js';
import { setupText } from '../../../web/state/setupText.js';

describe('what a dropped file is taken for', () => {
  test.each([
    ['left.txt', '20 80\n', 'position'],
    ['impulse.wav', undefined, 'position'],
    ['speaker moved 40 cm.txt', '20 80\n', 'placement'],
    ['mic-calibration.txt', '20 0\n', 'calibration'],
    ['my mic.txt', '20 0\n', 'calibration'],
    ['dynamic range.txt', '20 80\n', 'position'],
    ['my mic.wav', undefined, 'position'],
    ['on target.wav', undefined, 'position'],
    ['after.txt', '20 80\n', 'after'],
    ['left with EQ.txt', '20 80\n', 'after'],
    ['seat-1_filters-on.wav', undefined, 'after'],
    ['equalized.txt', '20 80\n', 'after'],
    ['saturday afternoon.txt', '20 80\n', 'position'],
    ['uncorrected.txt', '20 80\n', 'position'],
    ['left without EQ.txt', '20 80\n', 'position'],
    ['house curve.txt', '20 3\n', 'target'],
    ['room.json', '{ "microphoneDistance": "1 m" }', 'setup'],
    ['broken.json', '{ "microphoneDistance": ', 'setup'],
    ['dsp.json', '{ "bands": [], "gainDb": {} }', 'device'],
    ['curve.json', '{ "breakpoints": [] }', 'target'],
    ['work.json', '{ "files": [], "options": {} }', 'project'],
    ['house curve.txt', '[ 1, 2 ]', 'target'],
    ['design.json', '{ "filters": [], "curves": {} }', 'design'],
  ] as const)('%s', (name, content, role) => {
    expect(guessRole(name, content)).toBe(role);
  });
});

describe('the places on the chart', () => {
  const frame = frameOf(800, 600);
  const view = { fromHz: 20, toHz: 20000, lowDb: 60, highDb: 95, eqLowDb: -12, eqHighDb: 9 };

  test('are found again from pixels', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 20, max: 20000, noNaN: true }),
        fc.double({ min: -12, max: 9, noNaN: true }),
        (hz, db) => {
          expect(hzAt(frame, view, xOf(frame, view, hz))).toBeCloseTo(hz, 6);
          expect(eqDbAt(frame, view, eqYOf(frame, view, db))).toBeCloseTo(db, 9);
          expect(dbAt(frame, view, yOf(frame, view, db + 80))).toBeCloseTo(db + 80, 9);
        },
      ),
      { seed: 11 },
    );
  });

  test('a curve runs out of the panel by one point on either side, and no farther', () => {
    const path = pathOf(
      (hz) => hz,
      (db) => db,
      [10, 15, 25, 100, 30000, 40000],
      [0, 1, 2, 3, 4, 5],
      view,
    );
    expect(path).toBe('M15.0 1.0L25.0 2.0L100.0 3.0L30000.0 4.0');
  });
});

test('a set-up written as a file is read as the same set-up', () => {
  const length = fc
    .integer({ min: 1, max: 4000 })
    .chain((mm) => fc.integer({ min: 0, max: 20 }).map((t) => ({ m: mm / 1000, toleranceM: t / 1000 })));
  fc.assert(
    fc.property(
      fc.uniqueArray(fc.stringMatching(/^[a-z<>"&]{1,12}$/), { maxLength: 4 }),
      fc.array(length, { minLength: 9, maxLength: 9 }),
      fc.constantFrom('cm' as const, 'in' as const),
      (names, lengths, lengthUnit) => {
        const before = {
          temperatureC: 21.5,
          microphoneDistance: lengths[0]!,
          baffleWidthM: 0.17,
          surfaces: names.map((name, i) => ({
            name,
            speakerDistance: lengths[2 * i + 1]!,
            microphoneDistance: lengths[2 * i + 2]!,
          })),
          room: { lengthM: 4.2, widthM: 3.1, heightM: 2.4 },
          lengthUnit,
        };
        const after = readSetup(setupText(before), 'setup.json');
        expect(after.lengthUnit).toBe(lengthUnit);
        expect(after.surfaces.map(({ name }) => name)).toEqual(names);
        after.surfaces.forEach((surface, i) => {
          expect(surface.speakerDistance.m).toBeCloseTo(before.surfaces[i]!.speakerDistance.m, 5);
          expect(surface.microphoneDistance.toleranceM).toBeCloseTo(
            before.surfaces[i]!.microphoneDistance.toleranceM,
            5,
          );
        });
        expect(after.room!.widthM).toBeCloseTo(3.1, 5);
      },
    ),
    { seed: 12, numRuns: 60 },
  );
});

test.each(shippedDevices)('$name written as a file is read as the same device', (device) => {
  expect(readDevice(deviceText(device), 'device.json')).toEqual(device);
});

test.each([
  ['Demo: a desk (simulated)', 'demo-a-desk-simulated'],
  ['../../etc/passwd', 'etc-passwd'],
  ['日本', 'worksheet'],
])('the name %s makes a file called %s', (name, stem) => {
  expect(fileStem(name)).toBe(stem);
});
