import { describe, expect, it } from 'vitest';
import { deconvolutionText } from '../../../src/export/text/deconvolutionText.js';
import type { DeconvolutionReport } from '../../../src/schema/deconvolution.js';

const report: DeconvolutionReport = {
  schemaVersion: 1,
  title: 'recording.wav',
  sampleRateHz: 48_000,
  sweepStartS: 0.5,
  recordedPeakDb: -12.34,
  octaves: [
    { centreHz: 500, signalToNoiseDb: 61.2 },
    { centreHz: 1000, signalToNoiseDb: 58 },
  ],
  impulse: { lengthS: 2, peakAtS: 0.1, peakDb: -3 },
  harmonics: [
    {
      order: 2,
      frequencyHz: [500, 1000],
      levelDb: [-50, -80],
      relativeDb: [-50, -80],
      noiseDb: [-79, -79],
    },
  ],
  warnings: [],
};

describe('deconvolutionText', () => {
  it('says how far recording and octaves lie over what there is besides', () => {
    const text = deconvolutionText(report);
    expect(text).toContain('Recording:         its greatest sample at -12.3 dB of full scale');
    expect(text).toContain('Over the noise:    500 Hz 61.2 dB, 1 kHz 58.0 dB');
  });

  it('marks a harmonic that is no more than the noise, and no other', () => {
    const text = deconvolutionText(report);
    expect(text).toMatch(/500 Hz +-50\.0\n/);
    expect(text).toMatch(/1 kHz +<-80\.0\n/);
    expect(text).toContain('no more than the noise');
  });

  it('says that the noise is not known, and then marks nothing', () => {
    const { octaves: _, ...rest } = report;
    const [{ noiseDb: __, ...second }] = report.harmonics as [DeconvolutionReport['harmonics'][number]];
    const text = deconvolutionText({ ...rest, harmonics: [second] });
    expect(text).toContain('Over the noise:    not known; the recording holds no silence before the sweep');
    expect(text).not.toContain('<');
  });
});
