import { describe, expect, it } from 'vitest';
import { gateImpulse } from '../../src/impulse/response/gate.js';
import { findClipping } from '../../src/impulse/samples/clipping.js';
import { signalToNoise } from '../../src/impulse/signalToNoise.js';
import { echoic, filtered, noise, pass } from './digitalSystem.js';

const rate = 48_000;

describe('findClipping', () => {
  const sine = (hz: number, amplitude: number, steps = 2 ** 15) =>
    Float64Array.from({ length: rate }, (_, n) =>
      Math.max(
        -1,
        Math.min(1, Math.round(amplitude * Math.sin((2 * Math.PI * hz * n) / rate) * steps) / steps),
      ),
    );

  it('finds tops cut off at full scale or below', () => {
    expect(findClipping(sine(500, 1.2))).toMatchObject({ count: 1000, level: 1 });
    const attenuated = findClipping(sine(500, 1.2).map((v) => 0.4 * v));
    expect(attenuated!.count).toBe(1000);
    expect(attenuated!.level).toBeCloseTo(0.4, 9);
  });

  it.each([20, 50, 500, 997, 12_000, 19_999])(
    'does not take the tops of an undistorted %i Hz tone for cut',
    (hz) => {
      expect(findClipping(sine(hz, 0.9999))).toBeUndefined();
    },
  );

  it('does not take the single greatest sample of an impulse response for cut, nor silence', () => {
    const impulse = new Float64Array(100);
    impulse[20] = 1;
    expect(findClipping(impulse)).toBeUndefined();
    expect(findClipping(new Float64Array(100))).toBeUndefined();
  });

  it('says where it begins', () => {
    const samples = sine(100, 0.5);
    for (let n = 7000; n < 7005; n++) samples[n] = 0.8;
    expect(findClipping(samples)).toEqual({ count: 1, level: 0.8, firstSample: 7000 });
  });
});

describe('signalToNoise', () => {
  const withNoise = (levelDb: number, from = 0) => {
    const { samples } = echoic([], rate, 0.2, [], 1);
    const hiss = noise(samples.length, 3);
    return {
      samples: samples.map((v, n) => (n < from ? v : v + 10 ** (levelDb / 20) * hiss[n]!)),
      sampleRateHz: rate,
    };
  };
  const gate = { beforeS: 0.002, afterS: 0.01 };

  it('is what a pulse in white noise has by its definition, at every octave', () => {
    const levelDb = -50;
    const impulse = withNoise(levelDb);
    const gated = gateImpulse(impulse, 0.2, gate);
    const result = signalToNoise(impulse, 0.2, gated)!;
    // A pulse of 1 has |H|² = 1; the noise gets through with σ²·Σw².
    const exact = -levelDb - 10 * Math.log10(gated.noiseSamples);
    expect(result.noiseFrom).toBe('both');
    expect(result.octaves.map((o) => o.centreHz)).toEqual([125, 250, 500, 1000, 2000, 4000, 8000, 16_000]);
    // The lowest octaves hold only a few independent values of the noise in two stretches of 0.1 and 0.2 s.
    for (const { centreHz, signalToNoiseDb } of result.octaves)
      expect(Math.abs(signalToNoiseDb - exact)).toBeLessThan(centreHz < 1000 ? 4 : 1.5);
  });

  it('falls with the length of the gate', () => {
    const impulse = withNoise(-50);
    const short = signalToNoise(impulse, 0.2, gateImpulse(impulse, 0.2, gate))!;
    const long = signalToNoise(impulse, 0.2, gateImpulse(impulse, 0.2, { beforeS: 0.02, afterS: 0.1 }))!;
    expect(Math.abs(short.at(4000) - long.at(4000) - 10)).toBeLessThan(1);
  });

  it('knows a hum from the rest of the band', () => {
    const impulse = withNoise(-70);
    const hum = filtered([pass('low', 100, 2, rate), pass('low', 100, 2, rate)], noise(rate, 9));
    const loud = { ...impulse, samples: impulse.samples.map((v, n) => v + 0.05 * hum[n]!) };
    const result = signalToNoise(loud, 0.2, gateImpulse(loud, 0.2, { beforeS: 0.01, afterS: 0.1 }))!;
    expect(result.at(63)).toBeLessThan(10);
    expect(result.at(4000)).toBeGreaterThan(30);
  });

  it('is a number or an infinity where noise or signal have nothing at all in an octave', () => {
    // Noise of a single tone in a stretch that it fits exactly, and a response that is nothing but that tone.
    const samples = Float64Array.from(
      { length: rate },
      (_, n) => (n % 2 === 0 ? 1 : -1) * (n < 100 ? 1 : 1e-3),
    );
    const impulse = { samples, sampleRateHz: rate };
    const result = signalToNoise(impulse, 0, gateImpulse(impulse, 0))!;
    for (const { signalToNoiseDb } of result.octaves) expect(signalToNoiseDb).not.toBeNaN();
  });

  it('takes the noise from the end where nothing was recorded before', () => {
    const impulse = withNoise(-60, Math.round(0.2 * rate));
    expect(signalToNoise(impulse, 0.2, gateImpulse(impulse, 0.2, gate))!.noiseFrom).toBe('the end');
  });

  it('is unknown where there is no stretch to take the noise from', () => {
    const short = { samples: new Float64Array(500).fill(0.1), sampleRateHz: rate };
    expect(signalToNoise(short, 0.001, gateImpulse(short, 0.001))).toBeUndefined();
    const silent = echoic([], rate, 0.2, [], 1);
    expect(signalToNoise(silent, 0.2, gateImpulse(silent, 0.2, gate))).toBeUndefined();
  });
});
