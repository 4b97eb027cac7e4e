import { describe, expect, it } from 'vitest';
import { logGrid } from '../../src/curve/logGrid.js';
import { analyseImpulse } from '../../src/impulse/analyseImpulse.js';
import { InputError } from '../../src/inputError.js';
import { chainResponse, echoic, filtered, noise, pass, speaker } from './digitalSystem.js';

const rate = 48_000;
const echoed = echoic(speaker(rate), rate, 0.05, [
  { delayS: 4e-3, levelDb: -9 },
  { delayS: 6e-3, levelDb: -14 },
]);
const codes = (warnings: readonly { code: string }[]) => warnings.map((w) => w.code);

describe('analyseImpulse', () => {
  it('ends the gate before the first strong reflection and marks what it does not resolve', () => {
    const result = analyseImpulse(echoed);
    expect(result.gate.afterS).toBeGreaterThan(3.8e-3);
    expect(result.gate.afterS).toBeLessThan(4e-3);
    expect(result.resolvedFromHz).toBeCloseTo(1 / result.gate.afterS, 9);
    result.curve.frequencyHz.forEach((f, i) => {
      expect(result.trusted[i]).toBe(f >= result.resolvedFromHz ? 1 : 0);
    });
    expect(result.trustedRange!.fromHz).toBeGreaterThanOrEqual(result.resolvedFromHz);
    expect(codes(result.warnings)).toEqual(['not-resolved-below']);
    expect(result.reflections.filter((r) => r.levelDb > -20)).toHaveLength(2);
  });

  it('without a gate takes everything', () => {
    const result = analyseImpulse(echoed, { gate: 'none' });
    expect(result.gate.afterS).toBeCloseTo(0.45, 3);
    expect(result.gate.beforeS).toBeCloseTo(0.05, 3);
    expect(result.resolvedFromHz).toBeLessThan(2.3);
    expect(result.warnings).toEqual([]);
  });

  it('says of a recording too short to resolve the bass that it is, whatever is made of it', () => {
    const short = { ...echoed, samples: echoed.samples.slice(0, Math.round(0.055 * rate)) };
    const asked = [
      { gate: 'none' },
      { cycles: 6 },
      { gate: { afterS: 0.0035 }, merged: true, crossoverHz: 600 },
    ] as const;
    for (const options of asked) {
      const { warnings, resolvedFromHz } = analyseImpulse(short, options);
      const [first] = warnings.filter(({ code }) => code === 'not-resolved-below');
      expect(first?.message).toMatch(/^The recording ends 5 ms after .* nothing below 200 Hz is resolved/);
      expect(first?.frequencyHz).toBe(resolvedFromHz);
    }
    const gated = analyseImpulse(short, { gate: { afterS: 0.0035 } });
    expect(gated.warnings[0]!.message).toMatch(/^The gate ends 3\.5 ms after .* nothing below 286 Hz/);
  });

  it('warns of a reflection inside a gate that was asked for', () => {
    const result = analyseImpulse(echoed, { gate: { afterS: 0.02 } });
    expect(result.gate).toEqual({ beforeS: 0.002, afterS: 0.02 });
    expect(codes(result.warnings)).toEqual(['not-resolved-below', 'reflection-inside-gate']);
    expect(result.warnings[0]!.message).toMatch(/nothing below 50 Hz/);
    expect(result.warnings[1]!.message).toMatch(/4 ms after the direct sound \(-\d+\.\d dB\).*gate of 20 ms/);
  });

  it('warns of sound too early to be gated off', () => {
    const result = analyseImpulse(echoic(speaker(rate), rate, 0.05, [{ delayS: 0.6e-3, levelDb: -6 }]), {
      gate: { afterS: 0.005 },
    });
    expect(codes(result.warnings)).toContain('early-reflection');
  });

  it('trusts nothing within 10 dB of the noise, and says where', () => {
    const quiet = echoic([pass('high', 200, 0.7, rate), pass('low', 5000, 0.7, rate)], rate, 0.2, [], 1);
    const hiss = filtered([pass('high', 9000, 0.7, rate)], noise(quiet.samples.length, 5));
    const noisy = { ...quiet, samples: quiet.samples.map((v, n) => v + 3e-3 * hiss[n]!) };
    const result = analyseImpulse(noisy, { gate: { afterS: 0.02 } });
    const trustedAt = (hz: number) => result.trusted[result.curve.frequencyHz.findIndex((f) => f >= hz)];
    expect(trustedAt(1000)).toBe(1);
    expect(trustedAt(18_000)).toBe(0);
    expect(result.trustedRange!.toHz).toBeLessThan(16_000);
    expect(codes(result.warnings)).toContain('low-signal-to-noise');
    expect(result.octaves!.find((o) => o.centreHz === 16_000)!.signalToNoiseDb).toBeLessThan(10);
  });

  it('is silent of noise where nobody hears', () => {
    const clean = echoic([pass('high', 40, 0.7, rate), pass('low', 20_000, 0.7, rate)], rate, 0.2, [], 1);
    const rumble = filtered(
      [pass('low', 8, 0.7, rate), pass('low', 8, 0.7, rate)],
      noise(clean.samples.length, 5),
    );
    const result = analyseImpulse(
      { ...clean, samples: clean.samples.map((v, n) => v + 0.004 * rumble[n]!) },
      { gate: 'none' },
    );
    expect(result.trustedRange!.fromHz).toBeGreaterThan(10.5);
    expect(result.trustedRange!.fromHz).toBeLessThan(20);
    expect(codes(result.warnings)).toEqual([]);
  });

  it('merges gated and ungated on request and then resolves the bass', () => {
    const result = analyseImpulse(echoed, { merged: true, frequencyHz: logGrid(30, 16_000) });
    expect(result.splice!.crossoverHz).toBeCloseTo(2 / result.gate.afterS, 6);
    expect(result.resolvedFromHz).toBeLessThan(3);
    expect(result.trusted.every((ok) => ok === 1)).toBe(true);
    const exact = chainResponse(speaker(rate), rate, result.curve.frequencyHz);
    result.curve.frequencyHz.forEach((f, i) => {
      if (f > 1000) expect(Math.abs(result.curve.levelDb[i]! - exact.levelDb[i]!)).toBeLessThan(0.3);
    });
  });

  it('of an impulse response without reflections takes all of it and has nothing to merge', () => {
    const anechoic = echoic(speaker(rate), rate, 0.05, []);
    const result = analyseImpulse(anechoic, { merged: true });
    expect(result.splice).toBeUndefined();
    expect(result.gate.afterS).toBeCloseTo(0.45, 3);
  });

  it('windows by cycles on request', () => {
    const result = analyseImpulse(echoed, { cycles: 5 });
    const exact = chainResponse(speaker(rate), rate, result.curve.frequencyHz);
    result.curve.frequencyHz.forEach((f, i) => {
      if (f > 1300 && f < 2000)
        expect(Math.abs(result.curve.levelDb[i]! - exact.levelDb[i]!)).toBeLessThan(0.6);
    });
  });

  it('uses the frequencies that it is given', () => {
    const frequencyHz = logGrid(100, 10_000, 12);
    for (const options of [{}, { cycles: 8 }, { merged: true }] as const)
      expect(analyseImpulse(echoed, { ...options, frequencyHz }).curve.frequencyHz).toEqual(frequencyHz);
  });

  it.each([
    [{ gate: { afterS: 0.6 } }, /a gate of 600 ms, but only 450 ms follow the arrival/],
    [{ gate: { afterS: 0 } }, /a gate of 0 ms; expected at least/],
    [{ gate: { afterS: Number.NaN } }, /expected at least/],
    [{ gate: 'none', merged: true }, /needs a gate/],
    [{ merged: true, crossoverHz: 100 }, /crossover of the merged curve is 100 Hz; expected at least 25\d/],
  ] as const)('refuses %j', (options, message) => {
    expect(() => analyseImpulse(echoed, options)).toThrow(InputError);
    expect(() => analyseImpulse(echoed, options)).toThrow(message);
  });

  it('refuses silence', () => {
    expect(() => analyseImpulse({ samples: new Float64Array(1000), sampleRateHz: rate })).toThrow(
      /every sample is 0/,
    );
  });
});
