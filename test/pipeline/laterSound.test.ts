import { describe, expect, it } from 'vitest';
import { readMeasurement } from '../../src/measurement/readMeasurement.js';
import { writeWav } from '../../src/measurement/wavWriter.js';
import { diagnosisReport } from '../../src/pipeline/diagnosisReport.js';
import { prepareMeasurements } from '../../src/pipeline/prepareMeasurements.js';
import { type Echo, echoic, pass, peaking } from '../impulse/digitalSystem.js';

const rate = 48_000;
/** Its swings look like the comb of a reflection 14 cm longer than the direct sound. */
const speaker = [
  pass('high', 72, 0.8, rate),
  peaking(620, 2.5, 3, rate),
  peaking(1300, -6, 4, rate),
  peaking(3400, 3.5, 5, rate),
  pass('low', 19_000, 0.7, rate),
];

const measured = (echoes: readonly Echo[]) => {
  const { samples } = echoic(speaker, rate, 0.02, echoes);
  const { bytes } = writeWav({
    channels: [samples.map((x) => 0.3 * x)],
    sampleRateHz: rate,
    format: 'float32',
  });
  return readMeasurement(bytes, 'simulated.wav');
};
const free = measured([]);
const room = measured([{ delayS: 6e-3, levelDb: -10 }]);

describe('what follows the direct sound', () => {
  it('is told only where no strong reflection was found in any position', () => {
    const laterOf = (...measurements: (typeof free)[]) =>
      prepareMeasurements({ title: 'simulated', measurements }).laterSound;
    expect(laterOf(free)).toBeDefined();
    expect(laterOf(free, measured([{ delayS: 6e-3, levelDb: -26 }]))).toBeDefined();
    expect(laterOf(room)).toBeUndefined();
    expect(laterOf(free, room)).toBeUndefined();
  });

  it('gives a dip of its own back to a speaker in the open', () => {
    const { findings } = diagnosisReport({ title: 'simulated', measurements: [free] });
    const dip = findings.find(({ kind, frequencyHz }) => kind === 'dip' && Math.abs(frequencyHz - 1300) < 60);
    expect(dip).toMatchObject({ verdict: 'equalize', cause: { type: 'speaker' } });
    expect(dip!.evidence.join(' ')).toContain('a reflection that makes so narrow a dip comes then');
  });
});
