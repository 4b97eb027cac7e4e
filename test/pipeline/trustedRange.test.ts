import { describe, expect, it } from 'vitest';
import { design } from '../../src/design.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import { readMeasurement } from '../../src/measurement/readMeasurement.js';
import { DEFAULT_LIMITS } from '../../src/pipeline/designRequest.js';
import { diagnosisReport } from '../../src/pipeline/diagnosisReport.js';
import { prepareMeasurements } from '../../src/pipeline/prepareMeasurements.js';
import { trustedSpan } from '../../src/pipeline/trustedSpan.js';
import { impulseWav } from '../measurement/impulseWav.js';

const whole = readMeasurement(impulseWav({ reflections: [[400, 0.3]], noise: 1e-6 }), 'whole.wav');
const gated = readMeasurement(impulseWav({ reflections: [[400, 0.3]], noise: 1e-6 }), 'gated.wav', {
  gate: { afterS: 6e-3 },
});
// Louder than the speaker's bass.
const rumbling = readMeasurement(impulseWav({ noise: 3e-5, rumble: true }), 'rumbling.wav');
const codes = (warnings: readonly { readonly code: string }[]) => warnings.map(({ code }) => code);

describe('the range of a measurement that is not to be trusted everywhere', () => {
  it('begins where the gate resolves, and says so', () => {
    const { range, warnings } = diagnosisReport({ title: 'gated', measurements: [gated] });
    expect(range.fromHz).toBeGreaterThanOrEqual(1 / 6e-3 - 0.01);
    expect(range.fromHz).toBeLessThan(1.03 / 6e-3);
    expect(codes(warnings)).toContain('range-cut-by-gate');
    expect(codes(warnings)).not.toContain('range-cut-by-data');
  });

  it('is not moved below by a user who asks for it', () => {
    const { range, warnings } = diagnosisReport({ title: 'gated', measurements: [gated], fromHz: 40 });
    expect(range.fromHz).toBeGreaterThanOrEqual(1 / 6e-3 - 0.01);
    expect(codes(warnings)).toContain('range-cut-by-gate');
  });

  it('lies wholly in what is resolved, or is refused', () => {
    const ask = () => diagnosisReport({ title: 'gated', measurements: [gated], fromHz: 40, toHz: 150 });
    expect(ask).toThrow(/at least a third of an octave.*resolved and clear of noise: 167 Hz to/);
  });

  it('keeps clear of noise, and says so', () => {
    expect(rumbling.trusted!.fromHz).toBeGreaterThan(70);
    const { range, warnings } = diagnosisReport({ title: 'noisy', measurements: [rumbling] });
    expect(Math.abs(range.fromHz / rumbling.trusted!.fromHz - 1)).toBeLessThan(1e-4);
    expect(codes(warnings)).toContain('range-cut-by-noise');
    expect(codes(warnings)).not.toContain('range-cut-by-gate');
  });

  it('is not cut where the whole recording resolves what the speaker plays', () => {
    const { range, warnings } = diagnosisReport({ title: 'whole', measurements: [whole] });
    // The speaker's corner is at 60 Hz.
    expect(range.fromHz).toBeLessThan(90);
    expect(codes(warnings).filter((code) => code.startsWith('range-cut-by'))).toEqual([]);
  });

  it('is the one that all positions have in common', () => {
    expect(trustedSpan([whole, gated])!.fromHz).toBe(gated.trusted!.fromHz);
    const apart = { ...whole, trusted: { fromHz: 20, toHz: 100 } };
    expect(() => trustedSpan([apart, gated])).toThrow(/nowhere all resolved.*whole\.wav 20 Hz to 100 Hz/);
  });

  it('leaves out another placement that does not reach as far, and says so', () => {
    const { warnings } = diagnosisReport({ title: 'moved', measurements: [whole], moved: [gated] });
    const warning = warnings.find(({ code }) => code === 'moved-not-trusted');
    expect(warning?.message).toContain('gated.wav');
    const back = diagnosisReport({ title: 'moved', measurements: [gated], moved: [whole] });
    expect(codes(back.warnings)).not.toContain('moved-not-trusted');
  });

  it('gives the diagnosis the group delay beyond minimum phase', () => {
    const { curve, excessGroupDelayS } = prepareMeasurements({ title: 'whole', measurements: [gated] });
    expect(excessGroupDelayS).toHaveLength(curve.frequencyHz.length);
    // The speaker is of minimum phase; well inside the band nothing is left.
    curve.frequencyHz.forEach((hz, i) => {
      if (hz > 1000 && hz < 10_000) expect(Math.abs(excessGroupDelayS![i]!)).toBeLessThan(0.1e-3);
    });
  });
});

describe('a design from a gated impulse response', () => {
  const result = design({
    title: 'gated',
    measurements: [gated],
    target: { bassShelfFrequencyHz: 120 },
    ...DEFAULT_LIMITS,
    bands: 4,
  });

  it('has no band and no low shelf below what the gate resolves, and boosts nothing there', () => {
    expect(result.filters.length).toBeGreaterThan(0);
    for (const filter of result.filters) {
      expect(filter.frequencyHz).toBeGreaterThanOrEqual(gated.resolvedFromHz! * 0.999);
      expect(filter.type).not.toBe('lowShelf');
    }
    const below = Float64Array.from({ length: 40 }, (_, i) => 20 * 1.05 ** i);
    const eq = bankResponseDb(result.filters, result.sampleRateHz, below);
    expect(Math.max(...eq)).toBeLessThan(0.6);
  });

  it('mends the resonance that the gate resolves', () => {
    const { unevenness } = result;
    expect(unevenness.afterRmsDb).toBeLessThan(unevenness.beforeRmsDb / 2);
  });
});
