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

  test('without a room takes every other surface to be at right angles', () => {
    const { room: _, ...bare } = setup;
    const moved = movePlacement(bare, [{ surface: 'wall behind', speakerDistanceM: 0.8 }], 'along');
    expect(distances(moved)[1]).toEqual([3.5, 2.5]);
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
