import { describe, expect, it } from 'vitest';
import { findPaths } from '../../../src/impulse/arrivals/paths.js';
import { addPulse, type Echo, echoic, filtered, noise, seeded, speaker } from '../digitalSystem.js';

const rate = 48_000;

/** Up to ten echoes from 0.4 to 30 ms, −1 to −19 dB, at least 0.3 ms apart, a fifth of them inverted. */
function someEchoes(seed: number): Echo[] {
  const next = seeded(seed);
  const echoes: Echo[] = [];
  const count = 3 + Math.floor(8 * next());
  while (echoes.length < count) {
    const echo = { delayS: 0.0004 + 0.03 * next(), levelDb: -1 - 18 * next(), inverted: next() < 0.2 };
    if (echoes.every((e) => Math.abs(e.delayS - echo.delayS) > 0.3e-3)) echoes.push(echo);
  }
  return echoes;
}

describe('findPaths', () => {
  it.each([
    ['a bare pulse', 44_100, []],
    ['a two-way speaker', 48_000, speaker(48_000)],
    ['a two-way speaker at 96 kHz', 96_000, speaker(96_000)],
  ] as const)(
    'finds every reflection above −20 dB of %s within a sample, and no others',
    (_, sampleRateHz, system) => {
      for (let seed = 1; seed <= 3; seed++) {
        const echoes = someEchoes(seed);
        const { reflections } = findPaths(echoic(system, sampleRateHz, 0.01 + seed * 1.3e-5, echoes));
        for (const { delayS, levelDb } of echoes) {
          const nearest = reflections.reduce((a, b) =>
            Math.abs(b.delayS - delayS) < Math.abs(a.delayS - delayS) ? b : a,
          );
          expect(Math.abs(nearest.delayS - delayS) * sampleRateHz).toBeLessThan(1);
          // Inverse and echo do not match exactly where echoes follow closely on one another.
          expect(Math.abs(nearest.levelDb - levelDb)).toBeLessThan(1.5);
          expect(nearest.pathDifferenceM).toBeCloseTo(343.2 * nearest.delayS, 12);
        }
        const others = reflections.filter(
          (r) => r.levelDb > -20 && echoes.every((e) => Math.abs(e.delayS - r.delayS) * sampleRateHz > 2),
        );
        expect(others).toEqual([]);
      }
    },
  );

  it.each([100, 100.25, 100.5, 1057.77])(
    'gives a pure delay of %d samples to 0.01 sample and no reflection',
    (delay) => {
      // Ideal band-limited pulse over the whole file.
      const samples = Float64Array.from({ length: 8192 }, (_, n) => {
        const x = n - delay;
        return Math.abs(x) < 1e-9 ? 1 : Math.sin(Math.PI * x) / (Math.PI * x);
      });
      const { arrivalS, reflections } = findPaths({ samples, sampleRateHz: rate });
      expect(Math.abs(arrivalS * rate - delay)).toBeLessThan(0.01);
      expect(reflections).toEqual([]);
    },
  );

  it.each([1, -1])(
    'dates a speaker of polarity %d by the delay behind which it is minimum phase',
    (polarity) => {
      const { samples } = echoic(speaker(rate), rate, 0.01, []);
      const { arrivalS, reflections } = findPaths({
        samples: samples.map((v) => polarity * v),
        sampleRateHz: rate,
      });
      expect(Math.abs(arrivalS * rate - 480)).toBeLessThan(0.01);
      expect(reflections).toEqual([]);
    },
  );

  it('takes the first sound for the direct one where a reflection is stronger', () => {
    const { arrivalS, reflections } = findPaths(
      echoic(speaker(rate), rate, 0.01, [{ delayS: 3e-3, levelDb: 4 }]),
    );
    expect(Math.abs(arrivalS * rate - 480)).toBeLessThan(0.5);
    const [strong, ...others] = reflections.filter((r) => r.levelDb > -20);
    expect(others).toEqual([]);
    expect(Math.abs(strong!.delayS - 3e-3) * rate).toBeLessThan(1);
    expect(Math.abs(strong!.levelDb - 4)).toBeLessThan(1);
  });

  it('finds the reflection off a desk, 0.3 ms after the direct sound', () => {
    const { reflections } = findPaths(echoic(speaker(rate), rate, 0.01, [{ delayS: 0.3e-3, levelDb: -4 }]));
    expect(reflections.filter((r) => r.levelDb > -20)).toHaveLength(1);
    expect(Math.abs(reflections[0]!.delayS - 0.3e-3) * rate).toBeLessThan(1);
    expect(Math.abs(reflections[0]!.levelDb + 4)).toBeLessThan(1);
  });

  it('does not take the late sound of a crossover for a reflection', () => {
    // A first-order all-pass at 3 kHz as a crossover of second order leaves it: (a + z⁻¹)/(1 + a·z⁻¹).
    const t = Math.tan((Math.PI * 3000) / rate);
    const a = (t - 1) / (t + 1);
    const allPass = { b0: a, b1: 1, b2: 0, a1: a, a2: 0 };
    const { reflections } = findPaths(echoic([...speaker(rate), allPass], rate, 0.01, []));
    expect(reflections.filter((r) => r.levelDb > -20)).toEqual([]);
  });

  it('lists what stands out where reverberation has more pulses than it may list', () => {
    const echoes = [
      { delayS: 4e-3, levelDb: -10 },
      { delayS: 7e-3, levelDb: -13 },
      { delayS: 11e-3, levelDb: -16 },
    ];
    const impulse = echoic([], rate, 0.01, echoes);
    const tail = noise(impulse.samples.length, 7);
    for (let n = 528; n < impulse.samples.length; n++)
      impulse.samples[n]! += 0.03 * Math.exp(-(n - 480) / (0.08 * rate)) * tail[n]!;
    const { reflections } = findPaths({ ...impulse, samples: filtered(speaker(rate), impulse.samples) });
    expect(reflections).toHaveLength(40);
    for (const { delayS } of echoes)
      expect(reflections.some((r) => Math.abs(r.delayS - delayS) * rate < 1)).toBe(true);
    const delays = reflections.map((r) => r.delayS);
    expect([...delays].sort((a, b) => a - b)).toEqual(delays);
  });

  it('carries the speed of sound into the path differences', () => {
    const impulse = echoic([], rate, 0.01, [{ delayS: 2e-3, levelDb: -6 }]);
    const { reflections } = findPaths(impulse, { speedOfSoundMPerS: 349 });
    expect(reflections[0]!.pathDifferenceM).toBeCloseTo(349 * reflections[0]!.delayS, 12);
    expect(reflections[0]!.pathDifferenceM).toBeCloseTo(0.698, 3);
  });

  it('of a single sample at the very beginning is that sample', () => {
    const samples = new Float64Array(64);
    addPulse(samples, 0, 1);
    expect(findPaths({ samples, sampleRateHz: rate }).arrivalS * rate).toBeCloseTo(0, 2);
  });
});
