import { describe, expect, it } from 'vitest';
import { readMeasurement } from '../../src/measurement/readMeasurement.js';
import { diagnosisReport } from '../../src/pipeline/diagnosisReport.js';
import { prepareMeasurements } from '../../src/pipeline/prepareMeasurements.js';
import { impulseWav } from '../measurement/impulseWav.js';

// 400 samples at 48 kHz: 8.3 ms after the direct sound.
const room = readMeasurement(impulseWav({ reflections: [[400, 0.5]], noise: 1e-6 }), 'room.wav');
const free = readMeasurement(impulseWav({ noise: 1e-6 }), 'free.wav');

describe('the direct sound of an impulse response', () => {
  it('is taken out beside the whole, up to the first strong reflection', () => {
    expect(room.direct!.resolvedFromHz).toBeGreaterThan(1 / 8.4e-3);
    expect(room.direct!.resolvedFromHz).toBeLessThan(200);
    expect(free.direct).toBeUndefined();
  });

  it('is free of the comb that the reflection makes', () => {
    const { curve, direct } = prepareMeasurements({ title: 'room', measurements: [room] });
    const ripple = ({ frequencyHz, levelDb }: typeof curve) => {
      const here = levelDb.filter((_, i) => frequencyHz[i]! > 400 && frequencyHz[i]! < 1500);
      return Math.max(...here) - Math.min(...here);
    };
    expect(ripple(curve)).toBeGreaterThan(6);
    expect(ripple(direct!.curve)).toBeLessThan(1.5);
  });

  it('speaks in the findings', () => {
    const { findings } = diagnosisReport({ title: 'room', measurements: [room] });
    expect(findings.flatMap((finding) => finding.evidence).join(' ')).toContain('The direct sound alone');
  });

  it('is not used unless every position has it', () => {
    expect(prepareMeasurements({ title: 'both', measurements: [room, free] }).direct).toBeUndefined();
  });
});
