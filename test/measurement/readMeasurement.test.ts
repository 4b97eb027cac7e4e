import { describe, expect, it } from 'vitest';
import { measurementText } from '../../src/export/tables/measurementText.js';
import { readMeasurement } from '../../src/measurement/readMeasurement.js';
import { responseReport } from '../../src/pipeline/responseReport.js';
import { chainResponse, degrees, speaker } from '../impulse/digitalSystem.js';
import { impulseSamples, impulseWav, rate } from './impulseWav.js';

const textOf = (text: string) => new TextEncoder().encode(text);
const rows = Array.from({ length: 40 }, (_, i) => `${20 * 1.2 ** i} ${80 + (i % 3)}`).join('\n');

describe('readMeasurement', () => {
  it('takes a file for what its first bytes say, whatever it is called', () => {
    expect(readMeasurement(impulseWav(), 'measured.dat').reflections).toEqual([]);
    expect(readMeasurement(textOf(rows), 'measured.txt').reflections).toBeUndefined();
  });

  it('says of a file that is called .wav and is none what it begins with', () => {
    expect(() => readMeasurement(textOf(rows), 'measured.wav')).toThrow(
      'measured.wav: not a WAV file: it begins with "20 8"',
    );
  });

  // The speaker is of minimum phase and at its arrival, so that its closed form is the whole truth.
  it('gives the closed-form response of a speaker from its impulse response, level and phase', () => {
    const { curve } = readMeasurement(impulseWav(), 'impulse.wav');
    const exact = chainResponse(speaker(rate), rate, curve.frequencyHz);
    const inBand = Array.from(curve.frequencyHz.keys()).filter(
      (i) => curve.frequencyHz[i]! > 20 && curve.frequencyHz[i]! < 20_000,
    );
    expect(inBand.length).toBeGreaterThan(300);
    const halfDb = 20 * Math.log10(0.5);
    for (const i of inBand) {
      expect(Math.abs(curve.levelDb[i]! - exact.levelDb[i]! - halfDb)).toBeLessThan(0.01);
      expect(degrees(curve.phaseRad![i]!, exact.phaseRad[i]!)).toBeLessThan(0.1);
    }
  });

  it('does not gate unless asked to, and then trusts nothing that the gate does not resolve', () => {
    const bytes = impulseWav({ reflections: [[300, 0.5]] });
    expect(readMeasurement(bytes, 'impulse.wav').resolvedFromHz).toBeLessThan(3);
    const gated = readMeasurement(bytes, 'impulse.wav', { gate: { afterS: 5e-3 } });
    expect(gated.resolvedFromHz).toBeCloseTo(200, 0);
    expect(gated.trusted!.fromHz).toBeGreaterThanOrEqual(gated.resolvedFromHz!);
    const found = readMeasurement(bytes, 'impulse.wav', { gate: 'auto' });
    expect(found.resolvedFromHz).toBeGreaterThan(1 / (300 / rate));
  });

  it('names the file in what it refuses and in what it warns of', () => {
    const silent = impulseWav().map((byte, i) => (i < 100 ? byte : 0));
    expect(() => readMeasurement(silent, 'quiet.wav')).toThrow('quiet.wav: every sample is 0');
    expect(() => readMeasurement(impulseWav(), 'short.wav', { gate: { afterS: 3 } })).toThrow(
      /short\.wav: a gate of 3000 ms, but only 490 ms follow/,
    );
    const { warnings } = readMeasurement(impulseWav(), 'a.wav', { gate: { afterS: 5e-3 } });
    expect(warnings.find(({ code }) => code === 'not-resolved-below')?.message).toContain('a.wav');
  });

  it('refuses a recording that holds noise only', () => {
    const bytes = impulseWav({ noise: 0.4 });
    expect(() => readMeasurement(bytes, 'noise.wav')).toThrow(/noise\.wav: found no frequency/);
  });
});

describe('measurementText', () => {
  const impulse = { samples: impulseSamples({ reflections: [[300, 0.4]], noise: 1e-6 }), sampleRateHz: rate };
  const report = responseReport({ title: 'simulated', impulse });

  it('is read back as it was written, with the limits that it states', () => {
    const read = readMeasurement(textOf(measurementText(report)), 'curve.txt');
    const { frequencyHz, levelDb, phaseDeg } = report.curve;
    expect(Array.from(read.curve.frequencyHz)).toEqual(frequencyHz);
    expect(Array.from(read.curve.levelDb)).toEqual(levelDb);
    phaseDeg.forEach((deg, i) => {
      expect(Math.abs((read.curve.phaseRad![i]! * 180) / Math.PI - deg)).toBeLessThan(1e-6);
    });
    expect(read.resolvedFromHz).toBe(report.resolvedFromHz);
    expect(read.trusted).toEqual(report.trusted);
    expect(read.kept).toEqual({ afterS: 1 / report.resolvedFromHz, fades: true });
    expect(Math.abs(read.kept!.afterS - report.gate.afterS)).toBeLessThan(1 / rate);
    expect(read.comments.join('\n')).toMatch(/gate: 2 ms before to 6\.\d+ ms after the direct sound, found/);
  });

  it('gives the room as what the reflection makes of the direct sound', () => {
    const { curve } = readMeasurement(textOf(measurementText(report, 'room')), 'room.txt');
    expect(curve.frequencyHz[0]).toBeGreaterThanOrEqual(report.resolvedFromHz * 0.9999);
    // |1 + a·e^(−jωτ)|, where the gate has lost nothing of the speaker: well above its resolution.
    curve.frequencyHz.forEach((hz, i) => {
      if (hz < 2000 || hz > 15_000) return;
      const angle = (2 * Math.PI * hz * 300) / rate;
      const exactDb = 10 * Math.log10(1 + 0.4 ** 2 + 0.8 * Math.cos(angle));
      expect(Math.abs(curve.levelDb[i]! - exactDb)).toBeLessThan(0.1);
    });
  });

  it('claims no gate where there was none, or only above a frequency', () => {
    for (const options of [{ gate: 'none' }, { cycles: 6 }, { mergeAtHz: 400 }] as const) {
      const other = responseReport({ title: 'simulated', impulse, ...options });
      expect(readMeasurement(textOf(measurementText(other)), 'curve.txt').kept).toBeUndefined();
    }
  });

  it('cannot be broken by a title', () => {
    const text = measurementText({ ...report, title: 'a\n100 5\nresolved from: 9 Hz' });
    const read = readMeasurement(textOf(text), 'curve.txt');
    expect(read.resolvedFromHz).toBe(report.resolvedFromHz);
    expect(read.rows).toBe(report.curve.frequencyHz.length);
  });
});
