import { describe, expect, it } from 'vitest';
import { analyseImpulse } from '../../src/impulse/analyseImpulse.js';
import type { Measurement } from '../../src/measurement/measurement.js';
import { diagnosisReport } from '../../src/pipeline/diagnosisReport.js';
import { responseReport } from '../../src/pipeline/responseReport.js';
import { missing, referenceImpulse } from './impulseReferenceData.js';

const measured = (path: string, gate: 'none' | 'auto'): Measurement => {
  const analysis = analyseImpulse(referenceImpulse(path), { gate });
  return {
    fileName: path,
    curve: analysis.curve,
    comments: [],
    rows: analysis.curve.frequencyHz.length,
    warnings: analysis.warnings,
    resolvedFromHz: analysis.resolvedFromHz,
    trusted: analysis.trustedRange!,
    reflections: analysis.reflections,
  };
};

// Gardner and Martin, "HRTF Measurements of a KEMAR Dummy-Head Microphone", MIT Media Laboratory, 1994.
const anechoic = missing('anechoic-loudspeaker');
if (anechoic) console.log(anechoic);
describe.skipIf(anechoic)('a diagnosis of an anechoic loudspeaker', () => {
  const path = 'anechoic-loudspeaker/impulse.wav';

  it('lays nothing to its placement, and stays above its noise', () => {
    const { findings, range } = diagnosisReport({ title: path, measurements: [measured(path, 'none')] });
    expect(findings.length).toBeGreaterThan(0);
    expect(findings.filter(({ verdict }) => verdict === 'move')).toEqual([]);
    expect(range.fromHz).toBeGreaterThan(65);
    expect(range.toHz).toBeGreaterThan(16_000);
  });

  it('has its midrange about 0.2 ms later than its treble, beyond minimum phase', () => {
    const { curve, phase } = responseReport({ title: path, impulse: referenceImpulse(path) });
    const mean = (fromHz: number, toHz: number) => {
      const inside = phase!.excessGroupDelayS.filter(
        (_, i) => curve.frequencyHz[i]! >= fromHz && curve.frequencyHz[i]! <= toHz,
      );
      return inside.reduce((sum, s) => sum + s, 0) / inside.length;
    };
    const lateMs = 1000 * (mean(700, 1400) - mean(7000, 14_000));
    expect(lateMs).toBeGreaterThan(0.12);
    expect(lateMs).toBeLessThan(0.28);
  });
});

// dEchorate data set, Di Carlo et al., EURASIP J. Audio Speech Music Process., 2021 (licence MIT).
const room = missing('room-impulses');
if (room) console.log(room);
describe.skipIf(room)('a diagnosis of a loudspeaker in a room', () => {
  const path = 'room-impulses/mic01.wav';

  it('keeps to what the recording, or the gate, resolves', () => {
    const whole = diagnosisReport({ title: path, measurements: [measured(path, 'none')] });
    const gated = measured(path, 'auto');
    const behind = diagnosisReport({ title: path, measurements: [gated] });
    expect(whole.range.fromHz).toBeGreaterThan(100);
    expect(whole.range.fromHz).toBeLessThan(250);
    expect(behind.range.fromHz).toBeGreaterThanOrEqual(gated.resolvedFromHz! * 0.999);
    expect(behind.warnings.map(({ code }) => code)).toContain('range-cut-by-gate');
    const ripples = ({ findings }: typeof whole) => findings.filter(({ frequencyHz: f }) => f > 500).length;
    expect(ripples(behind)).toBeLessThan(ripples(whole));
  });
});
