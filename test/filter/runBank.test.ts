import { describe, expect, test } from 'vitest';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { Filter } from '../../src/filter/filter.js';
import { createBankRunner } from '../../src/filter/runBank.js';

const bank: readonly Filter[] = [
  { type: 'peaking', frequencyHz: 61.2, gainDb: -5.3, q: 3.1 },
  { type: 'lowShelf', frequencyHz: 120, gainDb: 2, q: 0.71 },
  { type: 'peaking', frequencyHz: 2400, gainDb: 4, q: 6 },
  { type: 'highShelf', frequencyHz: 8000, gainDb: -1.5, q: 0.71 },
];
const impulse = (length: number) => {
  const samples = new Float64Array(length);
  samples[0] = 1;
  return samples;
};

/** Level of a finite response at one frequency, by the sum itself. */
function levelAt(samples: Float64Array, cyclesPerSample: number): number {
  let re = 0;
  let im = 0;
  samples.forEach((s, i) => {
    re += s * Math.cos(2 * Math.PI * cyclesPerSample * i);
    im -= s * Math.sin(2 * Math.PI * cyclesPerSample * i);
  });
  return 20 * Math.log10(Math.hypot(re, im));
}

describe('running a bank', () => {
  test.each([44100, 48000, 96000])(
    'the response to an impulse is the closed form within 0.01 dB at %i Hz',
    (sampleRateHz) => {
      const samples = impulse(sampleRateHz);
      createBankRunner(bank, sampleRateHz, -3.2)(samples);
      const frequencyHz = Float64Array.of(10, 50, 61.2, 75, 120, 300, 1000, 2300, 2400, 5000, 8000, 20000);
      const expected = bankResponseDb(bank, sampleRateHz, frequencyHz);
      frequencyHz.forEach((hz, i) => {
        const error = levelAt(samples, hz / sampleRateHz) - (expected[i]! - 3.2);
        // What rings on after a second is some 100 dB down.
        expect(Math.abs(error), `${hz} Hz`).toBeLessThan(0.01);
      });
    },
  );

  test('blocks of any size give the very samples of one run', () => {
    const input = Float64Array.from({ length: 1000 }, (_, i) => Math.sin(0.3 * i) + (i % 7) / 7);
    const whole = input.slice();
    createBankRunner(bank, 48000, -1)(whole);
    const run = createBankRunner(bank, 48000, -1);
    const parts = input.slice();
    for (const [from, to] of [
      [0, 1],
      [1, 400],
      [400, 400],
      [400, 1000],
    ] as const) {
      run(parts.subarray(from, to));
    }
    expect(parts).toEqual(whole);
  });

  test('an empty bank is its gain alone', () => {
    const samples = Float64Array.of(1, -0.5, 0.25);
    createBankRunner([], 48000, -20)(samples);
    [0.1, -0.05, 0.025].forEach((value, i) => {
      expect(samples[i]).toBeCloseTo(value, 14);
    });
  });

  test('a silence after the music ends in exact zeros', () => {
    const run = createBankRunner(bank, 48000, 0);
    run(impulse(10));
    let last = new Float64Array(48000);
    for (let i = 0; i < 60; i++) {
      last = new Float64Array(48000);
      run(last);
    }
    expect(last.every((value) => value === 0)).toBe(true);
  });
});
