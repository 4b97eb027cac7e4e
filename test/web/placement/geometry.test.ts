import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { reflectedPathM } from '../../../src/acoustics/imageSource.js';
import { planeGeometry } from '../../../src/acoustics/planeGeometry.js';
import type { Setup } from '../../../src/acoustics/setup.js';
import { InputError } from '../../../src/inputError.js';
import { moveAsFar, moveSpeaker } from '../../../web/placement/moveSpeaker.js';
import { placeSetup } from '../../../web/placement/placeSetup.js';
import { reflectionPoint } from '../../../web/placement/reflectionPoint.js';
import { surfaceSides } from '../../../web/placement/surfaceSides.js';
import { allNames, type Place, roomSetup } from './roomSetup.js';

const SIZE: Place = { x: 4, y: 3, z: 2.4 };
const metres = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const speakers = fc.record({ x: metres(0.3, 0.8), y: metres(0.5, 2.5), z: metres(0.5, 1.5) });
const microphones = fc.record({ x: metres(1.8, 3), y: metres(0.5, 2.5), z: metres(0.5, 1.5) });
const ways = fc.record({ x: metres(-0.2, 0.6), y: metres(-0.4, 0.4), z: metres(-0.4, 0.4) });
const runs = { seed: 11, numRuns: 150 };

function expectSame(a: Setup, b: Setup): void {
  expect(a.microphoneDistance.m).toBeCloseTo(b.microphoneDistance.m, 5);
  a.surfaces.forEach((surface, i) => {
    expect(surface.name).toBe(b.surfaces[i]!.name);
    expect(surface.speakerDistance.m).toBeCloseTo(b.surfaces[i]!.speakerDistance.m, 5);
    expect(surface.microphoneDistance.m).toBeCloseTo(b.surfaces[i]!.microphoneDistance.m, 5);
  });
}

const plus = (p: Place, way: Place): Place => ({ x: p.x + way.x, y: p.y + way.y, z: p.z + way.z });

describe('a moved speaker', () => {
  test('has the distances that coordinates in space give, when the microphone stays', () => {
    fc.assert(
      fc.property(speakers, microphones, ways, (speaker, microphone, way) => {
        const moved = moveSpeaker(roomSetup(speaker, microphone, SIZE), way, 'stays');
        expectSame(moved, roomSetup(plus(speaker, way), microphone, SIZE));
      }),
      runs,
    );
  });

  test('keeps its straight distance and takes the microphone with it, when that moves along', () => {
    fc.assert(
      fc.property(speakers, microphones, ways, (speaker, microphone, way) => {
        const moved = moveSpeaker(roomSetup(speaker, microphone, SIZE), way, 'along');
        expectSame(moved, roomSetup(plus(speaker, way), plus(microphone, way), SIZE));
      }),
      runs,
    );
  });

  test('does so with one surface on each axis, whichever end it is at', () => {
    const speaker = { x: 0.5, y: 1.2, z: 1 };
    const microphone = { x: 2, y: 1.5, z: 1.2 };
    const way = { x: 0.2, y: -0.3, z: 0.1 };
    for (const names of [
      ['wall behind', 'left wall', 'floor'],
      ['wall across', 'right wall', 'ceiling'],
    ]) {
      const moved = moveSpeaker(roomSetup(speaker, microphone, SIZE, names), way, 'stays');
      expectSame(moved, roomSetup(plus(speaker, way), microphone, SIZE, names));
    }
  });

  test('does not move where the set-up has no surface to hold the move', () => {
    const setup = roomSetup({ x: 0.5, y: 1, z: 1 }, { x: 2, y: 1, z: 1 }, SIZE, ['wall behind']);
    expectSame(moveSpeaker(setup, { y: 0.3, z: 0.2 }, 'stays'), setup);
  });

  test('keeps the tolerances of its distances', () => {
    const setup = roomSetup({ x: 0.5, y: 1, z: 1 }, { x: 2, y: 1, z: 1 }, SIZE, ['wall behind']);
    const tolerant = { ...setup.surfaces[0]!, speakerDistance: { m: 0.5, toleranceM: 0.02 } };
    const moved = moveSpeaker({ ...setup, surfaces: [tolerant] }, { x: 0.1 }, 'stays');
    expect(moved.surfaces[0]!.speakerDistance).toEqual({ m: 0.6, toleranceM: 0.02 });
  });

  test.each([
    ['into the wall behind', { x: -0.6 }, /10 cm behind “wall behind”/],
    ['onto the wall behind', { x: -0.495 }, /touch “wall behind”: it stays 1 cm away/],
    ['through the ceiling', { z: 1.5 }, /10 cm behind “ceiling”/],
    [
      'into the microphone',
      { x: 1.5 },
      /beyond the microphone, which stays.*\(or let the microphone come along\)/,
    ],
  ])('is refused %s, in words', (_, way, words) => {
    const setup = roomSetup({ x: 0.5, y: 1, z: 1 }, { x: 2, y: 1, z: 1 }, SIZE);
    expect(() => moveSpeaker(setup, way, 'stays')).toThrow(InputError);
    expect(() => moveSpeaker(setup, way, 'stays')).toThrow(words);
  });

  test('is refused farther from a wall than the room is long', () => {
    const setup = roomSetup({ x: 0.5, y: 1, z: 1 }, { x: 2, y: 1, z: 1 }, SIZE, ['left wall']);
    const room = { lengthM: 4, widthM: 3, heightM: 2.4 };
    expect(() => moveSpeaker({ ...setup, room }, { y: 3.5 }, 'stays')).toThrow(
      /outside the room, which measures 400 cm/,
    );
  });

  test('goes as far as it can, slides along what stops it, and says what that is', () => {
    const speaker = { x: 0.5, y: 1, z: 1 };
    const microphone = { x: 2, y: 1.5, z: 1 };
    const { setup, refusal } = moveAsFar(roomSetup(speaker, microphone, SIZE), { x: -2, y: 0.3 }, 'stays');
    expect(setup.surfaces[0]!.speakerDistance.m).toBeGreaterThanOrEqual(0.01);
    expect(setup.surfaces[0]!.speakerDistance.m).toBeLessThan(0.011);
    expect(setup.surfaces[2]!.speakerDistance.m).toBeCloseTo(1.3, 6);
    expect(refusal).toMatch(/behind “wall behind”/);
  });

  test('wherever it is dragged, it stays in front of every surface and off the microphone', () => {
    const anyWay = fc.record({ x: metres(-9, 9), y: metres(-9, 9), z: metres(-9, 9) });
    const place = fc.constantFrom('stays' as const, 'along' as const);
    fc.assert(
      fc.property(speakers, microphones, anyWay, place, (speaker, microphone, way, which) => {
        const { setup } = moveAsFar(roomSetup(speaker, microphone, SIZE), way, which);
        for (const { speakerDistance, microphoneDistance } of setup.surfaces) {
          expect(speakerDistance.m).toBeGreaterThan(0.009);
          expect(microphoneDistance.m).toBeGreaterThan(0.009);
        }
        expect(setup.microphoneDistance.m).toBeGreaterThanOrEqual(0.0999);
      }),
      runs,
    );
  });

  test('may leave a place that is nearer than it could go', () => {
    const near = roomSetup({ x: 0.002, y: 1, z: 1 }, { x: 2, y: 1, z: 1 }, SIZE);
    expect(moveSpeaker(near, { x: 0.004 }, 'stays').surfaces[0]!.speakerDistance.m).toBeCloseTo(0.006, 6);
  });
});

describe('a set-up laid out', () => {
  const speaker = { x: 0.5, y: 1.2, z: 1 };
  const microphone = { x: 2, y: 1.5, z: 1.2 };

  test('has every surface on its side, by distances or by name', () => {
    const sides = surfaceSides(roomSetup(speaker, microphone, SIZE)).map(({ axis, end }) => axis + end);
    expect(sides).toEqual(['x-1', 'x1', 'y-1', 'y1', 'z-1', 'z1']);
  });

  test('goes by the name of a side wall even where the seat is far off the axis', () => {
    const setup = roomSetup({ x: 0.3, y: 1.97, z: 0.5 }, { x: 1.8, y: 0.5, z: 0.5 }, SIZE, ['left wall']);
    expect(surfaceSides(setup)).toEqual([{ axis: 'y', end: -1 }]);
  });

  test('takes distances where no name tells, and side walls one after the other', () => {
    const setup = roomSetup(speaker, microphone, SIZE, ['wall behind', 'left wall', 'right wall', 'floor']);
    const names = ['brick', 'plaster', 'curtain', 'the TABLE'];
    const renamed = { ...setup, surfaces: setup.surfaces.map((s, i) => ({ ...s, name: names[i]! })) };
    expect(surfaceSides(renamed).map(({ axis, end }) => axis + end)).toEqual(['x-1', 'y-1', 'y1', 'z-1']);
  });

  test('puts the planes where both distances meet and the reflections where the way is shortest', () => {
    const setup = roomSetup(speaker, microphone, SIZE);
    const placed = placeSetup(setup);
    expect(placed.surfaces.map(({ atM }) => Number(atM.toFixed(9)))).toEqual([0, 4, 0, 3, 0, 2.4]);
    placed.surfaces.forEach((surface, i) => {
      const at = reflectionPoint(placed, surface);
      const way = (p: Place) => Math.hypot(p.x - at.x, p.y - at.y, p.z - at.z);
      expect(way(speaker) + way(microphone)).toBeCloseTo(
        reflectedPathM(planeGeometry(setup, setup.surfaces[i]!)),
        9,
      );
    });
  });

  test('puts what the straight distance leaves over between speaker and microphone where no wall behind is known', () => {
    const { axes } = placeSetup(roomSetup(speaker, microphone, SIZE, ['left wall', 'floor']));
    expect(axes.x.microphoneM - axes.x.speakerM).toBeCloseTo(1.5, 9);
  });

  test('moves nothing but the speaker when the speaker moves', () => {
    const before = placeSetup(roomSetup(speaker, microphone, SIZE));
    const after = placeSetup(
      moveSpeaker(roomSetup(speaker, microphone, SIZE, allNames), { x: 0.3, y: 0.1 }, 'stays'),
    );
    after.surfaces.forEach(({ atM }, i) => {
      expect(atM).toBeCloseTo(before.surfaces[i]!.atM, 6);
    });
    expect(after.axes.x.speakerM - before.axes.x.speakerM).toBeCloseTo(0.3, 6);
    expect(after.axes.y.microphoneM).toBeCloseTo(before.axes.y.microphoneM, 6);
  });
});
