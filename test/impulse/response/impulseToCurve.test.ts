import { describe, expect, it } from 'vitest';
import { logGrid } from '../../../src/curve/logGrid.js';
import { findPaths } from '../../../src/impulse/arrivals/paths.js';
import { impulseToCurve } from '../../../src/impulse/response/impulseToCurve.js';
import { responseGrid } from '../../../src/impulse/response/responseGrid.js';
import { readWavChannel } from '../../../src/measurement/wavFile.js';
import { type WavSampleFormat, writeWav } from '../../../src/measurement/wavWriter.js';
import { chainResponse, degrees, filtered, pass, peaking, speaker } from '../digitalSystem.js';

const rate = 48_000;
const grid = logGrid(20, 20_000, 48);
const pulse = (at: number, length = rate) => {
  const samples = new Float64Array(length);
  samples[at] = 1;
  return samples;
};
const throughWav = (samples: Float64Array, format: WavSampleFormat) =>
  readWavChannel(writeWav({ channels: [samples], sampleRateHz: rate, format }).bytes, 'a.wav');

describe('impulseToCurve', () => {
  const systems = {
    'three resonances': [peaking(300, 6, 10, rate), peaking(2000, -8, 4, rate), peaking(80, 5, 2, rate)],
    'a two-way speaker': speaker(rate),
    'a high pass': [pass('high', 100, 1, rate)],
    'a low pass': [pass('low', 1000, 0.7, rate)],
  };

  it.each(Object.keys(systems) as (keyof typeof systems)[])(
    'gives %s, through WAV and back, its closed-form response to 0.01 dB and 0.1°',
    (name) => {
      const system = systems[name];
      const impulse = throughWav(filtered(system, pulse(480)), 'float32');
      const { arrivalS } = findPaths(impulse);
      const { curve } = impulseToCurve(impulse, {
        arrivalS,
        gate: { beforeS: 0.005, afterS: 0.9 },
        frequencyHz: grid,
      });
      const exact = chainResponse(system, rate, grid);
      grid.forEach((_, i) => {
        expect(Math.abs(curve.levelDb[i]! - exact.levelDb[i]!)).toBeLessThan(0.01);
        expect(degrees(curve.phaseRad![i]!, exact.phaseRad[i]!)).toBeLessThan(0.1);
      });
    },
  );

  it('gives the same through 24-bit PCM, where its steps allow', () => {
    const impulse = throughWav(
      filtered(systems['three resonances'], pulse(480)).map((v) => v / 2),
      'pcm24',
    );
    const { curve } = impulseToCurve(impulse, { arrivalS: 480 / rate, frequencyHz: grid });
    const exact = chainResponse(systems['three resonances'], rate, grid);
    grid.forEach((_, i) => {
      expect(Math.abs(curve.levelDb[i]! + 20 * Math.log10(2) - exact.levelDb[i]!)).toBeLessThan(0.01);
      expect(degrees(curve.phaseRad![i]!, exact.phaseRad[i]!)).toBeLessThan(0.1);
    });
  });

  it('gives a pure delay a flat line and no phase', () => {
    const impulse = { samples: pulse(480), sampleRateHz: rate };
    const { curve } = impulseToCurve(impulse, {
      arrivalS: findPaths(impulse).arrivalS,
      gate: { beforeS: 0.002, afterS: 0.02 },
      frequencyHz: grid,
    });
    for (const level of curve.levelDb) expect(Math.abs(level)).toBeLessThan(1e-6);
    for (const phase of curve.phaseRad!) expect(Math.abs(phase)).toBeLessThan(1e-6);
  });

  it('gives a delay of a fraction of a sample a line flat to 0.01 dB', () => {
    const delay = 480.37;
    const samples = Float64Array.from({ length: 4096 }, (_, n) => {
      const x = n - delay;
      return Math.sin(Math.PI * x) / (Math.PI * x);
    });
    const { arrivalS } = findPaths({ samples, sampleRateHz: rate });
    const { curve } = impulseToCurve({ samples, sampleRateHz: rate }, { arrivalS, frequencyHz: grid });
    for (const level of curve.levelDb) expect(Math.abs(level)).toBeLessThan(0.01);
    for (const phase of curve.phaseRad!) expect(Math.abs(phase)).toBeLessThan(0.1 * (Math.PI / 180));
  });

  it('unwraps the phase of a system that turns through more than a circle', () => {
    const system = [pass('low', 500, 1, rate), pass('low', 700, 1, rate), pass('low', 900, 1, rate)];
    const { curve } = impulseToCurve(
      { samples: filtered(system, pulse(480)), sampleRateHz: rate },
      { arrivalS: 480 / rate, frequencyHz: grid },
    );
    const phase = curve.phaseRad!;
    for (let i = 1; i < phase.length; i++) expect(Math.abs(phase[i]! - phase[i - 1]!)).toBeLessThan(0.3);
    expect(phase.at(-1)!).toBeLessThan(-2.9 * Math.PI);
  });

  it('states what the gate resolves', () => {
    const impulse = { samples: pulse(480), sampleRateHz: rate };
    const result = impulseToCurve(impulse, { arrivalS: 0.01, gate: { beforeS: 0.001, afterS: 0.005 } });
    expect(result.resolvedFromHz).toBeCloseTo(200, 9);
  });
});

describe('responseGrid', () => {
  it('is twice as dense as the common grid where that is fine enough and above goes on in half of what is resolved', () => {
    const f = responseGrid({ sampleRateHz: rate, resolutionHz: 20 });
    const dense = logGrid(10, 1200, 96);
    expect(f.slice(0, dense.length)).toEqual(dense);
    const steps = f.slice(1).map((v, i) => v - f[i]!);
    expect(Math.max(...steps)).toBeLessThan(10.1);
    expect(Math.min(...f.slice(0, -1).map((v, i) => f[i + 1]! / v))).toBeGreaterThan(1);
    expect(f.at(-1)!).toBeGreaterThan(23_900);
    expect(f.at(-1)!).toBeLessThan(24_000);
  });

  it('keeps within the number of points it is given', () => {
    const { length } = responseGrid({ sampleRateHz: rate, resolutionHz: 0.1, atMost: 1500 });
    expect(length).toBeLessThanOrEqual(1500);
    expect(length).toBeGreaterThan(1300);
  });

  it('stays below half of a low sample rate', () => {
    expect(responseGrid({ sampleRateHz: 8000, resolutionHz: 50 }).at(-1)!).toBeLessThan(4000);
  });
});
