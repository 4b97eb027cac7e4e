import { expect, test } from 'vitest';
import { arraySource } from '../../../src/impulse/samples/sampleSource.js';
import { deconvolveSweep } from '../../../src/impulse/sweep/deconvolveSweep.js';
import { sweepSignal } from '../../../src/impulse/sweep/exponentialSweep.js';
import { soundsLikeWire } from '../../../src/impulse/sweep/soundsLikeWire.js';
import { sweepParameters } from '../../../src/impulse/sweep/sweepParameters.js';
import { filtered, noise, pass, peaking } from '../digitalSystem.js';

const rate = 48_000;
const sweep = sweepParameters({ durationS: 2 });
const isWire = (played: Float64Array) => {
  const hiss = noise(played.length, 6);
  return soundsLikeWire(
    deconvolveSweep(arraySource(played.map((v, n) => v + 1e-5 * hiss[n]!)), sweep).impulse,
  );
};

test('the sweep itself is, be it softer, turned over or through the capacitor of an input', () => {
  const signal = sweepSignal(sweep);
  expect(isWire(signal)).toBe(true);
  expect(isWire(signal.map((v) => -0.3 * v))).toBe(true);
  expect(isWire(filtered([pass('high', 5, 0.7, rate)], signal))).toBe(true);
});

test.each([30, 60, 100])('a speaker from %s Hz is not, though nothing answers beside it', (cornerHz) => {
  const speaker = [
    pass('high', cornerHz, 0.7, rate),
    peaking(800, 1.5, 1, rate),
    peaking(4000, -1.5, 1, rate),
  ];
  expect(isWire(filtered(speaker, sweepSignal(sweep)))).toBe(false);
});

test('nor is a wire whose sound a room answers', () => {
  const signal = sweepSignal(sweep);
  expect(isWire(signal.map((v, n) => v + 0.3 * (signal[n - 200] ?? 0)))).toBe(false);
});
