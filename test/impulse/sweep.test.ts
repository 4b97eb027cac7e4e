import { describe, expect, it } from 'vitest';
import { realFft } from '../../src/impulse/samples/fft.js';
import { exponentialSweep, inverseSweep, sweepSignal } from '../../src/impulse/sweep/exponentialSweep.js';
import {
  inverseSweepParameters,
  type SweepOptions,
  sweepCautions,
  sweepParameters,
} from '../../src/impulse/sweep/sweepParameters.js';
import { InputError } from '../../src/inputError.js';

const rate = 48_000;
const second = sweepParameters({ durationS: 1, fadeInS: 0, fadeOutS: 0 });

describe('exponentialSweep', () => {
  it('passes every frequency when the formula says so', () => {
    const L = 1 / Math.log(1000);
    const sweep = exponentialSweep(second);
    const crossings: number[] = [];
    for (let n = 1; n < sweep.length; n++)
      if (sweep[n - 1]! < 0 && sweep[n]! >= 0)
        crossings.push((n - sweep[n]! / (sweep[n]! - sweep[n - 1]!)) / rate);
    // Between two rising zeros lies one period: instantaneous frequency f₁·e^(t/L) at its middle.
    for (const i of [1, 5, 20, 100]) {
      const middle = (crossings[i]! + crossings[i + 1]!) / 2;
      const period = crossings[i + 1]! - crossings[i]!;
      expect(Math.abs(period * 20 * Math.exp(middle / L) - 1)).toBeLessThan(0.01);
    }
  });

  it('has the level that was asked for and fades in and out', () => {
    const sweep = exponentialSweep(sweepParameters({ durationS: 2, levelDb: -12 }));
    expect(sweep.reduce((m, v) => Math.max(m, Math.abs(v)), 0)).toBeCloseTo(10 ** (-12 / 20), 4);
    expect(sweep[0]).toBe(0);
    expect(Math.abs(sweep.at(-1)!)).toBe(0);
    expect(sweep).toHaveLength(2 * rate);
  });

  it('is written with silence before and after', () => {
    const parameters = sweepParameters({ durationS: 1, silenceBeforeS: 0.25, silenceAfterS: 0.75 });
    const signal = sweepSignal(parameters);
    expect(signal).toHaveLength(2 * rate);
    expect(signal.slice(0, 0.25 * rate).every((v) => v === 0)).toBe(true);
    expect(signal.slice(1.25 * rate).every((v) => v === 0)).toBe(true);
    expect(signal.slice(0.25 * rate, 1.25 * rate)).toEqual(exponentialSweep(parameters));
  });
});

describe('inverseSweep', () => {
  it('turns the sweep into a pulse of gain 1 within the band', () => {
    const parameters = sweepParameters({ durationS: 2, levelDb: -6 });
    const size = 1 << 18;
    const sweep = realFft(exponentialSweep(parameters), size).bins;
    const inverse = realFft(inverseSweep(parameters), size).bins;
    for (const hz of [100, 1000, 5000, 15_000]) {
      const k = 2 * Math.round((hz / rate) * size);
      const gain = Math.hypot(sweep[k]!, sweep[k + 1]!) * Math.hypot(inverse[k]!, inverse[k + 1]!);
      expect(Math.abs(20 * Math.log10(gain))).toBeLessThan(0.1);
    }
  });
});

describe('inverseSweepParameters', () => {
  // Farina, AES 108th Convention, 2000: L = T/ln(f₂/f₁), the n-th order L·ln n early; values computed from these.
  it('of a sweep of 1 s from 20 Hz to 20 kHz are those of the published formulas', () => {
    const { timeConstantS, harmonicLeadS, fallDb } = inverseSweepParameters(second, 3);
    expect(timeConstantS).toBeCloseTo(0.144765, 6);
    expect(harmonicLeadS[0]).toBeCloseTo(0.1003, 4);
    expect(harmonicLeadS[1]).toBeCloseTo(0.144765 * Math.log(3), 6);
    expect(fallDb).toBeCloseTo(60, 9);
  });
});

describe('sweepParameters', () => {
  it('are safe and complete without being asked', () => {
    expect(sweepParameters()).toEqual({
      fromHz: 20,
      toHz: 20_000,
      durationS: 10,
      sampleRateHz: 48_000,
      levelDb: -12,
      fadeInS: 0.1,
      fadeOutS: 0.005,
      silenceBeforeS: 0.5,
      silenceAfterS: 2,
    });
    expect(sweepParameters({ sampleRateHz: 32_000 }).toHz).toBe(14_400);
  });

  it.each([
    [{ toHz: 24_001 }, /end at or below 24000 Hz, half the sample rate; received 24001/],
    [{ fromHz: 0 }, /start at 1 Hz or above; received 0/],
    [{ fromHz: 500, toHz: 900 }, /at least an octave/],
    [{ durationS: 0.01 }, /between 0.1 and 600 s/],
    [{ levelDb: 1 }, /between -80 and 0 dBFS; received 1/],
    [{ fadeInS: 6 }, /not take more than half of its 10 s/],
    [{ sampleRateHz: 4000, toHz: 1000 }, /sample rate must lie between/],
    [{ silenceAfterS: -1 }, /silence/],
    [{ levelDb: Number.NaN }, /level/],
  ])('refuse %j', (options, message) => {
    expect(() => sweepParameters(options)).toThrow(InputError);
    expect(() => sweepParameters(options)).toThrow(message);
  });
});

describe('sweepCautions', () => {
  const codes = (options: SweepOptions) => sweepCautions(sweepParameters(options)).map(({ code }) => code);

  it('always speaks of ears and tweeters, and of loud or long sweeps besides', () => {
    const [always] = sweepCautions(sweepParameters());
    expect(always!.message).toMatch(/ears/);
    expect(always!.message).toMatch(/tweeters/);
    expect(codes({ fromHz: 40 })).toEqual(['sweep-is-loud']);
    expect(codes({ fromHz: 40, levelDb: -3 })).toEqual(['sweep-is-loud', 'sweep-heats-tweeters']);
    expect(codes({ fromHz: 40, durationS: 60 })).toEqual(['sweep-is-loud', 'sweep-heats-tweeters']);
  });

  it('speaks of the way that cones move where it starts below small speakers', () => {
    expect(codes({})).toEqual(['sweep-is-loud', 'sweep-moves-cones']);
    expect(sweepCautions(sweepParameters())[1]!.message).toMatch(/^From 20 Hz on the cone/);
  });
});
