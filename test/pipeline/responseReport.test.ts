import { describe, expect, it } from 'vitest';
import { responseJson } from '../../src/export/json/responseJson.js';
import { responseText } from '../../src/export/text/responseText.js';
import { InputError } from '../../src/inputError.js';
import { responseReport } from '../../src/pipeline/responseReport.js';
import { type ResponseReport, responseSchema } from '../../src/schema/response.js';
import { chainResponse, degrees, speaker } from '../impulse/digitalSystem.js';
import { arrivalSample, impulseSamples, rate } from '../measurement/impulseWav.js';

const samples = impulseSamples({ reflections: [[300, 0.4]], noise: 1e-6 });
const impulse = { samples, sampleRateHz: rate };
const request = { title: 'simulated', impulse };
/** Of the direct sound: half of full scale. */
const HALF_DB = 20 * Math.log10(0.5);

function at({ curve: { frequencyHz, levelDb } }: ResponseReport, hz: number): number {
  const i = frequencyHz.findIndex((f) => f >= hz);
  const t = (hz - frequencyHz[i - 1]!) / (frequencyHz[i]! - frequencyHz[i - 1]!);
  return levelDb[i - 1]! + t * (levelDb[i]! - levelDb[i - 1]!);
}

/** Furthest from the speaker's closed form between two frequencies. */
function worstDb({ curve }: ResponseReport, fromHz: number, toHz: number): number {
  const exact = chainResponse(speaker(rate), rate, Float64Array.from(curve.frequencyHz));
  const errors = curve.levelDb.map((db, i) => Math.abs(db - exact.levelDb[i]! - HALF_DB));
  const inside = errors.filter((_, i) => curve.frequencyHz[i]! > fromHz && curve.frequencyHz[i]! < toHz);
  expect(inside.length).toBeGreaterThan(50);
  return Math.max(...inside);
}

describe('responseReport', () => {
  const report = responseReport(request);

  it('shows the speaker as it is behind its gate, where the gate is long against its resonances', () => {
    expect(worstDb(report, 4000, 20_000)).toBeLessThan(0.05);
    const { frequencyHz, phaseDeg } = report.curve;
    const exact = chainResponse(speaker(rate), rate, Float64Array.from(frequencyHz));
    frequencyHz.forEach((hz, i) => {
      // An arrival that is 0.01 sample off turns 20 kHz by 1.5 degrees.
      if (hz > 4000 && hz < 20_000)
        expect(degrees((phaseDeg[i]! * Math.PI) / 180, exact.phaseRad[i]!)).toBeLessThan(1.5);
    });
  });

  it('tells a reversed polarity, whatever the level, and none where a part of the band is turned round', () => {
    const codes = (scaled: (v: number, n: number) => number) =>
      responseReport({
        ...request,
        impulse: { samples: samples.map(scaled), sampleRateHz: rate },
      }).warnings.map(({ code }) => code);
    expect(codes((v) => -v)).toContain('polarity-reversed');
    expect(codes((v) => -0.01 * v)).toContain('polarity-reversed');
    expect(codes((v) => v)).not.toContain('polarity-reversed');
    // A first-order all-pass at 4 kHz turns the treble round and leaves the bass: a crossover's doing.
    const t = Math.tan((Math.PI * 4000) / rate);
    const c = (t - 1) / (t + 1);
    let [x1, y1] = [0, 0];
    expect(
      codes((x) => {
        const y = c * x + x1 - c * y1;
        [x1, y1] = [x, y];
        return y;
      }),
    ).not.toContain('polarity-reversed');
  });

  it('lists the reflection with delay, level and where a surface would have to be', () => {
    expect(Math.abs(report.arrivalS * rate - arrivalSample)).toBeLessThan(0.05);
    expect(report.reflections).toHaveLength(1);
    const [reflection] = report.reflections;
    expect(Math.abs(reflection!.delayS * rate - 300)).toBeLessThan(1);
    expect(Math.abs(reflection!.levelDb - 20 * Math.log10(0.4))).toBeLessThan(0.5);
    // ISO 9613-1: 343.2 m/s at 20 °C.
    expect(reflection!.pathDifferenceM).toBeCloseTo(reflection!.delayS * 343.2, 2);
    expect(reflection!.behindM).toBeCloseTo(reflection!.pathDifferenceM / 2, 3);
    expect(reflection!.alongsideM).toBeUndefined();
  });

  it('tells no delay with a minus before zero', () => {
    const early = { ...report.phase!, excessGroupDelayS: report.curve.frequencyHz.map(() => -2e-6) };
    const text = responseText({ ...report, phase: early });
    expect(text).toContain(' 0.00 ms');
    expect(text).not.toContain('-0.00');
  });

  it('finds nothing beyond the minimum phase of a speaker that has no other', () => {
    report.curve.frequencyHz.forEach((hz, i) => {
      if (hz > 4000 && hz < 15_000)
        expect(Math.abs(report.phase!.excessGroupDelayS[i]!)).toBeLessThan(0.02e-3);
    });
  });

  it('merged, is gated above the crossover and whole below it', () => {
    const gate = { afterS: 5e-3 };
    const gated = responseReport({ ...request, gate });
    const whole = responseReport({ ...request, gate: 'none' });
    const merged = responseReport({ ...request, gate, mergeAtHz: 800 });
    for (const hz of [2000, 5000, 10_000])
      expect(Math.abs(at(merged, hz) - at(gated, hz))).toBeLessThan(0.05);
    for (const hz of [50, 100, 200, 400])
      expect(Math.abs(at(merged, hz) - at(whole, hz) - merged.splice!.levelDb)).toBeLessThan(0.05);
  });

  it('leaves a late reflection out of the treble by a window of six periods', () => {
    // Six periods smear the speaker's own resonance at 7 kHz a little; the reflection would make 4.4 dB.
    expect(worstDb(responseReport({ ...request, cycles: 6 }), 5000, 15_000)).toBeLessThan(1);
    expect(worstDb(responseReport({ ...request, gate: 'none' }), 5000, 15_000)).toBeGreaterThan(3);
  });

  it('takes the deviation of the microphone off', () => {
    const calibration = {
      frequencyHz: Float64Array.of(5, 1000, 30_000),
      levelDb: Float64Array.of(0, 0, 6),
    };
    const calibrated = responseReport({ ...request, calibration });
    report.curve.frequencyHz.forEach((hz, i) => {
      const deviationDb = Math.max(0, (6 * Math.log(hz / 1000)) / Math.log(30));
      expect(calibrated.curve.levelDb[i]!).toBeCloseTo(report.curve.levelDb[i]! - deviationDb, 3);
    });
  });

  it('is written as JSON with no figure that JSON cannot hold, even where there is no noise at all', () => {
    const clean = responseReport({ title: 'clean', impulse: { ...impulse, samples: impulseSamples() } });
    expect(responseSchema.parse(JSON.parse(responseJson(clean))).warnings).toEqual(clean.warnings);
  });

  it('says where it finds nothing to gate off, and so nothing to merge', () => {
    const lone = { ...impulse, samples: impulseSamples({ noise: 1e-6 }) };
    const alone = responseReport({ title: 'alone', impulse: lone, mergeAtHz: 500 });
    expect(alone.gating).toBe('none');
    expect(alone.warnings.map(({ code }) => code)).toContain('nothing-to-merge');
  });

  it('refuses a crossover that the gate does not resolve', () => {
    const ask = () => responseReport({ ...request, gate: { afterS: 5e-3 }, mergeAtHz: 100 });
    expect(ask).toThrow(InputError);
    expect(ask).toThrow(/crossover.*100 Hz.*200 Hz/);
  });
});
