import { describe, expect, test } from 'vitest';
import type { Setup } from '../../src/acoustics/setup.js';
import { InputError } from '../../src/inputError.js';
import { movePlacement } from '../../src/whatIf/movePlacement.js';

const length = (m: number) => ({ m, toleranceM: 0 });
const surface = (name: string, hs: number, hm: number) => ({
  name,
  speakerDistance: length(hs),
  microphoneDistance: length(hm),
});

/** A room 4 m by 3 m by 2.4 m; speaker at (0.5, 1, 0.9), microphone at (1.5, 1.2, 1.1). */
const setup: Setup = {
  temperatureC: 20,
  microphoneDistance: length(Math.hypot(1, 0.2, 0.2)),
  surfaces: [
    surface('wall behind', 0.5, 1.5),
    surface('wall in front', 3.5, 2.5),
    surface('side wall', 1, 1.2),
    surface('floor', 0.9, 1.1),
  ],
  room: { lengthM: 4, widthM: 3, heightM: 2.4 },
  lengthUnit: 'cm',
};

const distances = (moved: Setup) =>
  moved.surfaces.map((s) => [s.speakerDistance.m, s.microphoneDistance.m].map((m) => Number(m.toFixed(6))));

describe('movePlacement', () => {
  test('with the microphone coming along keeps the straight distance, and brings the facing wall nearer', () => {
    const moved = movePlacement(setup, [{ surface: 'wall behind', speakerDistanceM: 0.8 }], 'along');
    expect(moved.microphoneDistance.m).toBeCloseTo(setup.microphoneDistance.m, 12);
    expect(distances(moved)).toEqual([
      [0.8, 1.8],
      [3.2, 2.2],
      [1, 1.2],
      [0.9, 1.1],
    ]);
  });

  test('with the microphone staying agrees with coordinates, along two axes at once', () => {
    const moved = movePlacement(
      setup,
      [
        { surface: 'wall behind', speakerDistanceM: 0.8 },
        { surface: 'side wall', speakerDistanceM: 0.6 },
      ],
      'stays',
    );
    expect(moved.microphoneDistance.m).toBeCloseTo(Math.hypot(1.5 - 0.8, 1.2 - 0.6, 0.2), 9);
    expect(distances(moved)).toEqual([
      [0.8, 1.5],
      [3.2, 2.5],
      [0.6, 1.2],
      [0.9, 1.1],
    ]);
  });

  test('without a room and names that tell takes every other surface to be at right angles', () => {
    const { room: _, ...bare } = setup;
    const surfaces = bare.surfaces.map((s) => (s.name === 'wall in front' ? { ...s, name: 'screen' } : s));
    const moved = movePlacement(
      { ...bare, surfaces },
      [{ surface: 'wall behind', speakerDistanceM: 0.8 }],
      'along',
    );
    expect(distances(moved)[1]).toEqual([3.5, 2.5]);
  });

  test('without a room knows by their names what faces what: floor and ceiling fix the height', () => {
    const { room: _, ...bare } = setup;
    const named = (below: string, above: string, microphoneM: number): Setup => ({
      ...bare,
      surfaces: [
        surface(below, 1.02, 1.1),
        surface(above, 1.92, microphoneM),
        surface('wall behind', 1, 1.84),
      ],
    });
    const up = (s: Setup, m: number) =>
      movePlacement(s, [{ surface: s.surfaces[1]!.name, speakerDistanceM: m }], 'along');
    const room = named('floor', 'ceiling', 1.84);
    expect(distances(up(room, 2.5))).toEqual([
      [0.44, 0.52],
      [2.5, 2.42],
      [1, 1.84],
    ]);
    expect(() => up(room, 3.18)).toThrow('318 cm from "ceiling": the speaker would be behind "floor"');
    expect(() => up(named('left wall', 'Wall on the right', 1.84), 3.18)).toThrow(/behind "left wall"/);
    // No pair by name, or distances that do not add up to one height for both: nothing is known of what they face.
    expect(() => up(named('desk', 'shelf', 1.84), 3.18)).not.toThrow();
    expect(() => up(named('floor', 'ceiling', 1.2), 3.18)).not.toThrow();
  });

  test('takes floor and ceiling to be no farther apart than the room is high', () => {
    const alone: Setup = { ...setup, surfaces: [surface('floor', 0.9, 1.1), surface('side wall', 0.9, 1.1)] };
    const to = (name: string, m: number) => () =>
      movePlacement(alone, [{ surface: name, speakerDistanceM: m }], 'along');
    expect(to('floor', 2.6)).toThrow(/the speaker would be outside of the room, which is 240 cm high/);
    expect(to('side wall', 2.6)).not.toThrow();
  });

  test('refuses a surface that is not there, and places where nothing can stand', () => {
    const to = (name: string, m: number, microphone: 'along' | 'stays') => () =>
      movePlacement(setup, [{ surface: name, speakerDistanceM: m }], microphone);
    expect(to('ceiling', 1, 'along')).toThrow(/"ceiling".*"wall behind", "wall in front"/);
    expect(to('wall behind', 4.2, 'along')).toThrow(/behind "wall in front"/);
    expect(to('side wall', 3.9, 'along')).toThrow(
      '390 cm from "side wall": the microphone would be outside of the room, whose longest side has 400 cm',
    );
    expect(to('side wall', 3.9, 'stays')).not.toThrow();
    expect(to('floor', 30, 'stays')).toThrow(/^3000 cm from "floor": the speaker would be outside/);
    const { room: _, ...bare } = setup;
    expect(() => movePlacement(bare, [{ surface: 'side wall', speakerDistanceM: 9 }], 'along')).not.toThrow();
    const onAxis: Setup = { ...setup, microphoneDistance: length(1), surfaces: [surface('w', 0.5, 1.5)] };
    expect(() => movePlacement(onAxis, [{ surface: 'w', speakerDistanceM: 1.48 }], 'stays')).toThrow(
      InputError,
    );
  });
});
