import { expect, test } from 'vitest';
import { realFft } from '../../../src/impulse/samples/fft.js';
import { pinkNoise } from '../../../web/listen/pinkNoise.js';

const RATE = 48_000;
const SIZE = 1 << 16;
const noise = pinkNoise(SIZE, RATE, 1);

/** Power from `fromHz` to `toHz` of one whole period. */
function power(samples: Float32Array, fromHz: number, toHz: number): number {
  const { bins } = realFft(Float64Array.from(samples), SIZE);
  let sum = 0;
  for (let k = 1; k < SIZE / 2; k++) {
    const hz = (k * RATE) / SIZE;
    if (hz >= fromHz && hz < toHz) sum += bins[2 * k]! ** 2 + bins[2 * k + 1]! ** 2;
  }
  return sum;
}

test('every octave carries the same power, and there is none outside the band', () => {
  const octaves = Array.from({ length: 9 }, (_, i) => power(noise, 35 * 2 ** i, 70 * 2 ** i));
  const mean = octaves.reduce((sum, p) => sum + p, 0) / octaves.length;
  // The lowest octave holds some 48 lines; where they begin and end is worth 0.2 dB.
  for (const octave of octaves) expect(10 * Math.log10(octave / mean)).toBeCloseTo(0, 0);
  expect(power(noise, 0, 19) / mean).toBeLessThan(1e-9);
  expect(power(noise, 20_500, 24_000) / mean).toBeLessThan(1e-9);
});

test('it repeats without a seam: the step from its end to its start is like any other', () => {
  const steps = Array.from({ length: SIZE }, (_, i) => Math.abs(noise[(i + 1) % SIZE]! - noise[i]!));
  const typical = Math.sqrt(steps.reduce((sum, s) => sum + s * s, 0) / SIZE);
  expect(steps[SIZE - 1]).toBeLessThan(4 * typical);
  // A line of the spectrum would smear if the period were not whole.
  const twice = Float64Array.from({ length: 2 * SIZE }, (_, i) => noise[i % SIZE]!);
  const { bins } = realFft(twice, 2 * SIZE);
  let between = 0;
  let onLines = 0;
  for (let k = 1; k < SIZE; k++) {
    const p = bins[2 * k]! ** 2 + bins[2 * k + 1]! ** 2;
    if (k % 2 === 0) onLines += p;
    else between += p;
  }
  expect(between / onLines).toBeLessThan(1e-12);
});

test('its peak lies 3 dB under full scale, its mean at nothing', () => {
  const peak = noise.reduce((most, v) => Math.max(most, Math.abs(v)), 0);
  expect(20 * Math.log10(peak)).toBeCloseTo(-3, 4);
  expect(noise.reduce((sum, v) => sum + v, 0) / SIZE).toBeCloseTo(0, 6);
});

test('the same seed gives the same noise, another seed another', () => {
  expect(pinkNoise(1024, RATE, 1)).toEqual(pinkNoise(1024, RATE, 1));
  expect(pinkNoise(1024, RATE, 1)).not.toEqual(pinkNoise(1024, RATE, 2));
});
