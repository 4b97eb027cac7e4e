import { describe, expect, it } from 'vitest';
import { autoGate, firstStrongReflection } from '../../../src/impulse/arrivals/autoGate.js';
import { findPaths } from '../../../src/impulse/arrivals/paths.js';
import { gateImpulse } from '../../../src/impulse/response/gate.js';
import { echoic, speaker } from '../digitalSystem.js';

const rate = 48_000;
const ones = { samples: new Float64Array(4800).fill(1), sampleRateHz: rate };

describe('gateImpulse', () => {
  it('is flat around the arrival and falls as half a Hann window at both edges', () => {
    const { samples, arrivalSample, resolvedFromHz } = gateImpulse(ones, 0.05, {
      beforeS: 0.002,
      afterS: 0.01,
    });
    const at = (ms: number) => samples[Math.round(arrivalSample + (ms / 1000) * rate)]!;
    expect(samples).toHaveLength(96 + 480 + 1);
    expect(arrivalSample).toBe(96);
    // Flat from −1 ms to 7.5 ms; half-way down in the middle of each edge.
    for (const ms of [-1, 0, 3, 7.5]) expect(at(ms)).toBe(1);
    expect(at(-1.5)).toBeCloseTo(0.5, 12);
    expect(at(8.75)).toBeCloseTo(0.5, 12);
    expect(at(-2)).toBeCloseTo(0, 12);
    expect(at(10)).toBeCloseTo(0, 12);
    expect(resolvedFromHz).toBe(100);
  });

  it('keeps arrivals between samples where they are', () => {
    const { arrivalSample, samples } = gateImpulse(ones, 100.4 / rate, {
      beforeS: 10 / rate,
      afterS: 20 / rate,
    });
    expect(arrivalSample).toBeCloseTo(9.4, 9);
    expect(samples).toHaveLength(30);
  });

  it('without a gate keeps everything unfaded, to the stated length after the arrival', () => {
    const whole = gateImpulse(ones, 0.05);
    expect(whole.samples).toEqual(ones.samples);
    expect(whole.resolvedFromHz).toBeCloseTo(20, 1);
    expect(whole.noiseSamples).toBe(4800);
    expect(gateImpulse(ones, 0.05, undefined, 0.01).samples).toHaveLength(2400 + 480 + 1);
  });

  it('resolves no more than the file holds', () => {
    expect(gateImpulse(ones, 0.05, { beforeS: 0, afterS: 0.5 }).resolvedFromHz).toBeCloseTo(20, 1);
  });

  it('lets noise through in proportion to the square of its weight', () => {
    const { samples, noiseSamples } = gateImpulse(ones, 0.05, { beforeS: 0.002, afterS: 0.01 });
    expect(noiseSamples).toBeCloseTo(
      samples.reduce((sum, w) => sum + w * w, 0),
      9,
    );
  });
});

describe('autoGate', () => {
  const gateOf = (...args: Parameters<typeof echoic>) => {
    const gate = autoGate(findPaths(echoic(...args)));
    return gate!;
  };

  it('ends just before the first strong reflection, whatever comes later or weaker', () => {
    const { afterS } = gateOf(speaker(rate), rate, 0.01, [
      { delayS: 3e-3, levelDb: -26 },
      { delayS: 5e-3, levelDb: -12 },
      { delayS: 8e-3, levelDb: -3 },
    ]);
    expect(afterS).toBeLessThan(5e-3);
    expect(afterS).toBeGreaterThan(4.8e-3);
  });

  it('does not shrink to nothing for a reflection that comes too early to be gated off', () => {
    const echoes = [
      { delayS: 0.4e-3, levelDb: -6 },
      { delayS: 4e-3, levelDb: -6 },
    ];
    const { afterS } = gateOf(speaker(rate), rate, 0.01, echoes);
    expect(Math.abs(afterS - 3.9e-3)).toBeLessThan(0.05e-3);
  });

  it('is none without a strong reflection', () => {
    const paths = findPaths(echoic(speaker(rate), rate, 0.01, [{ delayS: 6e-3, levelDb: -30 }]));
    expect(firstStrongReflection(paths)).toBeUndefined();
    expect(autoGate(paths)).toBeUndefined();
  });
});
