import { describe, expect, it } from 'vitest';
import { logGrid } from '../../../src/curve/logGrid.js';
import { findPaths } from '../../../src/impulse/arrivals/paths.js';
import { impulseToCurve } from '../../../src/impulse/response/impulseToCurve.js';
import { arraySource } from '../../../src/impulse/samples/sampleSource.js';
import { deconvolveSweep } from '../../../src/impulse/sweep/deconvolveSweep.js';
import { sweepSignal } from '../../../src/impulse/sweep/exponentialSweep.js';
import { type SweepOptions, sweepParameters } from '../../../src/impulse/sweep/sweepParameters.js';
import { InputError } from '../../../src/inputError.js';
import { chainResponse, filtered, noise, pass, peaking } from '../digitalSystem.js';

const rate = 48_000;
const system = [pass('high', 60, 0.7, rate), peaking(500, 5, 3, rate), peaking(3000, -4, 2, rate)];

/** A speaker whose motor bends the signal before cone and cabinet colour it: x + a₂x² + a₃x³, then the filters. */
function recorded(options: SweepOptions, a2 = 0, a3 = 0, delay = 333) {
  const parameters = sweepParameters(options);
  const played = sweepSignal(parameters).map((v) => v + a2 * v * v + a3 * v ** 3);
  const heard = new Float64Array(played.length);
  heard.set(filtered(system, played).subarray(0, played.length - delay), delay);
  return { parameters, heard };
}

describe('deconvolveSweep', () => {
  const [a2, a3, levelDb] = [0.02, 0.01, -6];
  const amplitude = 10 ** (levelDb / 20);

  // Aliasing of the simulated cube begins at 8 kHz; a real speaker has none, so one sweep stops there.
  it.each([
    [8000, 2],
    [20_000, 3],
  ])(
    'separates a non-linear speaker into its linear response and its harmonics, up to %i Hz in %i s',
    (toHz, durationS) => {
      const { parameters, heard } = recorded({ toHz, durationS, levelDb }, a2, a3);
      const result = deconvolveSweep(arraySource(heard), parameters);
      const { arrivalS } = findPaths(result.impulse);
      const frequencyHz = logGrid(25, toHz / 1.05, 24);
      const { curve } = impulseToCurve(result.impulse, { arrivalS, frequencyHz });
      const exact = chainResponse(system, rate, frequencyHz);
      // x³ = (3/4)·A²·x at the fundamental.
      const compressionDb = 20 * Math.log10(1 + 0.75 * a3 * amplitude ** 2);
      frequencyHz.forEach((f, i) => {
        const tolerance = f < 30 ? 0.15 : 0.1;
        expect(Math.abs(curve.levelDb[i]! - exact.levelDb[i]! - compressionDb)).toBeLessThan(tolerance);
      });
      // sin² and sin³ in multiple angles: a₂A²/2 and a₃A³/4, over A.
      for (const [order, share] of [
        [2, (a2 * amplitude) / 2],
        [3, (a3 * amplitude ** 2) / 4],
      ] as const) {
        const harmonic = result.harmonics.find((h) => h.order === order)!;
        const excited = harmonic.curve.frequencyHz;
        const coloured = chainResponse(
          system,
          rate,
          excited.map((f) => order * f),
        );
        const linear = chainResponse(system, rate, excited);
        expect(excited[0]!).toBeLessThan(60);
        expect(excited.at(-1)!).toBeGreaterThan(toHz / order / 1.3);
        excited.forEach((_, i) => {
          const level = 20 * Math.log10(share) + coloured.levelDb[i]!;
          expect(Math.abs(harmonic.curve.levelDb[i]! - level)).toBeLessThan(1);
          expect(Math.abs(harmonic.relativeDb[i]! - level + linear.levelDb[i]!)).toBeLessThan(1.1);
        });
      }
      for (const { order, relativeDb } of result.harmonics)
        if (order > 3) expect(Math.max(...relativeDb.slice(6))).toBeLessThan(-80);
    },
  );

  it('finds when the sweep came', () => {
    const { parameters, heard } = recorded({ durationS: 1, silenceBeforeS: 0.5 });
    const { sweepStartS, warnings } = deconvolveSweep(arraySource(heard), parameters);
    expect(Math.abs(sweepStartS * rate - (0.5 * rate + 333))).toBeLessThan(1);
    expect(warnings).toEqual([]);
  });

  it('gives a wire a pulse of 1 in time and a flat line', () => {
    const parameters = sweepParameters({ durationS: 3 });
    const { impulse, harmonics } = deconvolveSweep(arraySource(sweepSignal(parameters)), parameters);
    const { arrivalS } = findPaths(impulse);
    const frequencyHz = logGrid(25, 19_000);
    const { curve } = impulseToCurve(impulse, { arrivalS, frequencyHz });
    frequencyHz.forEach((f, i) => {
      // The band's sharp lower end rings before the pulse for longer than is kept.
      expect(Math.abs(curve.levelDb[i]!)).toBeLessThan(f < 60 ? 0.15 : 0.02);
    });
    for (const { relativeDb } of harmonics) expect(Math.max(...relativeDb)).toBeLessThan(-80);
  });

  it('finds a short sweep in a long noisy recording piece by piece', () => {
    const { parameters, heard } = recorded({ durationS: 0.5, silenceBeforeS: 0, silenceAfterS: 0.5 });
    const long = noise(20 * rate, 2).map((v) => 0.003 * v);
    const start = 13 * rate + 4567;
    heard.forEach((v, n) => {
      long[start + n] = long[start + n]! + v;
    });
    const shares: number[] = [];
    const reads: number[] = [];
    const source = {
      length: long.length,
      read: (from: number, count: number) => {
        reads.push(count);
        return long.subarray(from, from + count);
      },
    };
    const result = deconvolveSweep(source, parameters, { progress: (share) => shares.push(share) });
    expect(Math.abs(result.sweepStartS * rate - start - 333)).toBeLessThan(1);
    expect(shares.at(-1)).toBe(1);
    expect([...shares].sort((a, b) => a - b)).toEqual(shares);
    // Never more than a fraction of the recording at once.
    expect(Math.max(...reads)).toBeLessThan(long.length / 2);
    const { curve } = impulseToCurve(result.impulse, {
      arrivalS: findPaths(result.impulse).arrivalS,
      gate: { beforeS: 0.005, afterS: 0.1 },
      frequencyHz: Float64Array.of(500, 3000),
    });
    const exact = chainResponse(system, rate, curve.frequencyHz);
    curve.levelDb.forEach((l, i) => {
      expect(Math.abs(l - exact.levelDb[i]!)).toBeLessThan(0.5);
    });
  });

  it('warns of a clipped recording and of one that ends too early', () => {
    const { parameters, heard } = recorded({ durationS: 1, levelDb: 0, silenceAfterS: 0.1 });
    const clipped = heard.map((v) => Math.max(-0.7, Math.min(0.7, v)));
    const { warnings } = deconvolveSweep(arraySource(clipped), parameters);
    expect(warnings.map((w) => w.code)).toEqual(['recording-clipped', 'recording-ends-early']);
  });

  it('refuses a recording that is too short, silent, or breaks off within the sweep', () => {
    const { parameters, heard } = recorded({ durationS: 1 });
    const deconvolve = (samples: Float64Array) => () => deconvolveSweep(arraySource(samples), parameters);
    expect(deconvolve(heard.subarray(0, 0.9 * rate))).toThrow(InputError);
    expect(deconvolve(heard.subarray(0, 0.9 * rate))).toThrow(
      /is 0\.9 s long, shorter than the sweep of 1 s/,
    );
    expect(deconvolve(new Float64Array(3 * rate))).toThrow(/silent/);
    expect(deconvolve(heard.subarray(0, 1.2 * rate))).toThrow(
      /breaks off: it starts at 0\.50\d s and lasts 1 s/,
    );
  });
});
