import { describe, expect, test } from 'vitest';
import { pressureLevelDb } from '../../../src/acoustics/complexPressure.js';
import { type Reflection, sumReflections } from '../../../src/acoustics/reflectionModel.js';
import type { Setup } from '../../../src/acoustics/setup.js';
import { logGrid } from '../../../src/curve/logGrid.js';
import { PARAMETERS_PER_PATH } from '../../../src/diagnosis/paths/pathModel.js';
import { rightAnglePairs } from '../../../src/diagnosis/paths/rightAnglePairs.js';
import { expectedPaths } from '../../../src/diagnosis/scene/expectedPaths.js';
import { explainByPaths } from '../../../src/diagnosis/scene/explainByPaths.js';
import { fittedSurface } from '../../../src/diagnosis/scene/fittedSurface.js';
import { bankResponseDb } from '../../../src/filter/bankResponseDb.js';
import { seededRandom } from '../../../src/fit/seededRandom.js';

const c = 343.2;
const frequencyHz = logGrid(40, 20000);
const range = { fromHz: 50, toHz: 18000 };
const at = (m: number) => ({ m, toleranceM: 0 });
const wall = { r: 1.1, hs: 0.31, hm: 1.41 };
const desk = { r: 1.1, hs: 0.24, hm: 0.36 };
const walls: Reflection[] = [
  { plane: wall, model: { strength: 0.8, cornerHz: 900, lagM: 0.03 } },
  { plane: desk, model: { strength: 0.6, cornerHz: 5000, lagM: 0 } },
];

/** A speaker with resonances of its own and measurement noise, in front of surfaces that add in pairs too. */
function measured(reflections: readonly Reflection[]) {
  const random = seededRandom(3);
  const own = bankResponseDb(
    [
      { type: 'peaking', frequencyHz: 240, gainDb: 2.5, q: 1.2 },
      { type: 'peaking', frequencyHz: 900, gainDb: -3, q: 3 },
      { type: 'highShelf', frequencyHz: 2500, gainDb: -2, q: 0.7 },
    ],
    48000,
    frequencyHz,
  );
  const reflected = pressureLevelDb(sumReflections(frequencyHz, reflections, c, { secondOrder: true }));
  const noise = () => 0.3 * (random() + random() + random() - 1.5);
  return { frequencyHz, levelDb: reflected.map((l, i) => l + own[i]! + noise()) };
}

/** As a user would write it, every distance off by a factor. */
function setupSaid(factor: number): Setup {
  const surface = (name: string, { hs, hm }: typeof wall) => ({
    name,
    speakerDistance: at(hs * factor),
    microphoneDistance: at(hm * factor),
  });
  return {
    temperatureC: 20,
    microphoneDistance: at(1.1),
    baffleWidthM: 0.17,
    surfaces: [surface('wall behind', wall), surface('desk', desk)],
    lengthUnit: 'cm',
  };
}

function explain(setup: Setup | undefined) {
  return explainByPaths(measured(walls), range, {
    speedOfSoundMs: c,
    expected: expectedPaths(setup, [], c),
    pairs: setup ? rightAnglePairs(setup) : [],
  })!;
}

describe('the joint fit of strengths and distances', () => {
  test.each([1, 1.2, 0.8])(
    'finds both surfaces with all distances said wrong by a factor of %d',
    (factor) => {
      const setup = setupSaid(factor);
      const explanation = explain(setup);
      const found = [0, 1].map((path) => fittedSurface(explanation, path, setup)!.distanceM);
      expect(Math.abs(found[0]! / wall.hs - 1)).toBeLessThan(0.06);
      expect(Math.abs(found[1]! / desk.hs - 1)).toBeLessThan(0.08);
    },
  );

  test('finds the same path lengths with no set-up at all', () => {
    const { fit } = explain(undefined);
    const lengths = Array.from({ length: fit.parameters.length / PARAMETERS_PER_PATH }, (_, p) =>
      Math.exp(fit.parameters[p * PARAMETERS_PER_PATH]!),
    );
    const near = (m: number) => lengths.some((l) => Math.abs(l / m - 1) < 0.1);
    // 2·31 cm with the lag of 3 cm and of the low-pass (c/2πf, about 6 cm toward low frequency), and the desk's detour.
    expect(near(0.68)).toBe(true);
    expect(near(Math.sqrt(1.21 + 4 * 0.24 * 0.36) - 1.1)).toBe(true);
  });

  test('finds no path in a speaker that has only resonances of its own', () => {
    const { fit } = explainByPaths(measured([]), range, { speedOfSoundMs: c, expected: [], pairs: [] })!;
    expect(fit.parameters.length).toBe(0);
  });
});
