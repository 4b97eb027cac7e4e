import { expect, test } from 'vitest';
import { logGrid } from '../../../src/curve/logGrid.js';
import type { Feature } from '../../../src/diagnosis/features/detectFeatures.js';
import { describeScene } from '../../../src/diagnosis/scene/scene.js';
import { nullKey, reflectionCause } from '../../../src/diagnosis/verdict/causeOf.js';

const frequencyHz = logGrid(20, 20000);
const length = (m: number) => ({ m, toleranceM: 0 });
// By way of the desk √(0.8² + 4 · 0.2 · 0.3) m, 13.8 cm more than straight: adds at 343.2 / 0.138 = 2.49 kHz.
const scene = describeScene({
  curve: { frequencyHz, levelDb: new Float64Array(frequencyHz.length) },
  range: { fromHz: 50, toHz: 20000 },
  setup: {
    temperatureC: 20,
    microphoneDistance: length(0.8),
    surfaces: [{ name: 'desk', speakerDistance: length(0.2), microphoneDistance: length(0.3) }],
    lengthUnit: 'cm',
  },
});
const peakAt = (hz: number): Feature => ({
  kind: 'peak',
  index: frequencyHz.findIndex((f) => f >= hz),
  frequencyHz: hz,
  levelDb: 3,
  widthOctaves: 0.4,
  prominenceDb: 3,
  fromHz: hz / 1.15,
  toHz: hz * 1.15,
});
const causeAt = (hz: number) => reflectionCause(peakAt(hz), { path: 0, lossDb: 1, surface: 'desk' }, scene);

test('a reflection is told with the frequency at which it adds, where that is near', () => {
  const { surface, predictedHz } = causeAt(2230);
  expect(surface).toBe('desk');
  expect(predictedHz).toBeGreaterThan(2450);
  expect(predictedHz).toBeLessThan(2530);
});

test('a prediction three octaves off is none', () => {
  expect(causeAt(226)).toEqual({ type: 'reflection', surface: 'desk' });
});

test('nor is one more than half an octave off, or already made to another’s', () => {
  expect(causeAt(1700)).toEqual({ type: 'reflection', surface: 'desk' });
  const guilty = { path: 0, lossDb: 1, surface: 'desk' };
  const cause = reflectionCause(peakAt(2230), guilty, scene);
  expect(reflectionCause(peakAt(2230), guilty, scene, new Set([nullKey(cause)!]))).toEqual({
    type: 'reflection',
    surface: 'desk',
  });
});

test('with no set-up only what the fitted length itself predicts is told', () => {
  const echo = frequencyHz.map((hz) => 10 * Math.log10(1.25 + Math.cos((2 * Math.PI * hz * 0.5) / 343.2)));
  const alone = describeScene({
    curve: { frequencyHz, levelDb: echo },
    range: { fromHz: 50, toHz: 20000 },
  });
  const dipAt = (hz: number): Feature => ({ ...peakAt(hz), kind: 'dip', levelDb: -6 });
  // Cancels at 343.2 / (2 · 0.5).
  expect(reflectionCause(dipAt(350), { path: 0, lossDb: 5 }, alone).predictedHz).toBeCloseTo(343.2, -1);
  expect(reflectionCause(dipAt(450), { path: 0, lossDb: 5 }, alone)).toEqual({ type: 'reflection' });
});

test('a null is predicted as near as the distances allow: a few per cent for a far wall measured well, more where the tape was loose', () => {
  // By way of the side wall √(1 + 4 · 1.5 · 1.5) − 1 = 2.16 m more: cancels at 343.2 · 1.5 / 2.16 = 238 Hz.
  const causeBeside = (hz: number, toleranceM: number) => {
    const away = { m: 1.5, toleranceM };
    const setup = {
      temperatureC: 20,
      microphoneDistance: length(1),
      surfaces: [{ name: 'side wall', speakerDistance: away, microphoneDistance: away }],
      lengthUnit: 'cm' as const,
    };
    const beside = describeScene({ ...scene.input, setup });
    const guilty = { path: 0, lossDb: 1, surface: 'side wall' };
    return reflectionCause({ ...peakAt(hz), kind: 'dip', levelDb: -6 }, guilty, beside).predictedHz;
  };
  expect(causeBeside(232, 0)).toBeCloseTo(238, 0);
  expect(causeBeside(205, 0)).toBeUndefined();
  expect(causeBeside(205, 0.3)).toBeCloseTo(238, 0);
});
