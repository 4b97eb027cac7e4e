import { describe, expect, it } from 'vitest';
import { interpolateLevel } from '../../src/curve/interpolateLevel.js';
import { logGrid } from '../../src/curve/logGrid.js';
import { dbOfPower, powerOfDb } from '../../src/curve/powerIntegral.js';
import { analyseImpulse } from '../../src/impulse/analyseImpulse.js';
import { excessPhaseOfImpulse } from '../../src/impulse/phase/excessPhaseOfImpulse.js';
import { gateImpulse } from '../../src/impulse/response/gate.js';
import { impulseToCurve } from '../../src/impulse/response/impulseToCurve.js';
import { smoothToTheEnd } from '../../src/impulse/response/smoothToTheEnd.js';
import type { ImpulseResponse } from '../../src/impulse/samples/impulseResponse.js';
import { missing, referenceImpulse } from './impulseReferenceData.js';

// Bill Gardner and Keith Martin, "HRTF Measurements of a KEMAR Dummy-Head Microphone", MIT Media Laboratory, 1994: the
// anechoic impulse response of a two-way loudspeaker and its authors' minimum-phase inverse. The third-octave levels
// and the two figures below stand in SOURCE.txt beside the data.
const set = 'anechoic-loudspeaker';
const reason = missing(set);
if (reason) console.log(reason);

describe.skipIf(reason)('an anechoic loudspeaker', () => {
  const impulse = reason
    ? { samples: new Float64Array(0), sampleRateHz: 44_100 }
    : referenceImpulse(`${set}/impulse.wav`);

  /** Mean power per Hz over a third octave, as far as half the sample rate goes. */
  const thirdOctaveDb = (samples: ImpulseResponse, hz: number) => {
    const [from, to] = [hz * 2 ** (-1 / 6), Math.min(22_040, hz * 2 ** (1 / 6))];
    const frequencyHz = Float64Array.from({ length: 400 }, (_, i) => from + ((i + 0.5) / 400) * (to - from));
    const { levelDb } = impulseToCurve(samples, { arrivalS: 0, frequencyHz }).curve;
    return dbOfPower(levelDb.reduce((sum, l) => sum + powerOfDb(l), 0) / levelDb.length);
  };

  it('has the third-octave levels of its source within 0.3 dB', () => {
    const { curve } = analyseImpulse(impulse);
    const smoothed = smoothToTheEnd(curve, 1 / 3);
    const published: Record<number, number> = {
      63: -18.2,
      80: -9.6,
      100: -5.8,
      125: -3.5,
      160: -1.2,
      250: -1.6,
      500: -2.8,
      1600: 3.5,
      2000: 5.9,
      2500: 6.7,
      3150: 6.3,
      4000: 3.7,
      5000: 2.7,
      8000: 4.7,
      10000: 2.0,
      16000: -1.9,
      20000: -5.5,
    };
    for (const [hz, db] of Object.entries(published))
      expect(
        Math.abs(interpolateLevel(smoothed, Number(hz)) - interpolateLevel(smoothed, 1000) - db),
        `${hz} Hz`,
      ).toBeLessThan(0.3);
  });

  it('is flattened by its published inverse within 0.04 dB in every third octave from 500 Hz to 16 kHz', () => {
    const inverse = referenceImpulse(`${set}/published-minimum-phase-inverse.wav`);
    // The speaker through the inverse filter, sample by sample.
    const samples = new Float64Array(impulse.samples.length + inverse.samples.length);
    impulse.samples.forEach((v, n) => {
      inverse.samples.forEach((w, m) => {
        samples[n + m] = samples[n + m]! + v * w;
      });
    });
    const flattened = { samples, sampleRateHz: 44_100 };
    const levels = Array.from({ length: 16 }, (_, n) =>
      thirdOctaveDb(flattened, 1000 * 10 ** ((n - 3) / 10)),
    );
    const middle = levels.reduce((a, b) => a + b, 0) / levels.length;
    for (const level of levels) expect(Math.abs(level - middle)).toBeLessThan(0.04);
  });

  it('shows no strong reflection, so that the whole of it passes the automatic gate', () => {
    const { gate, reflections, trustedRange } = analyseImpulse(impulse);
    expect(reflections.filter((r) => r.levelDb > -20)).toEqual([]);
    expect(gate.afterS).toBeGreaterThan(0.3);
    expect(trustedRange!.fromHz).toBeLessThan(100);
    expect(trustedRange!.toHz).toBeGreaterThan(20_000);
  });

  it('has an excess group delay of about 0.2 ms between treble and midrange', () => {
    const { arrivalS } = analyseImpulse(impulse);
    const gated = gateImpulse(impulse, arrivalS, { beforeS: 0.003, afterS: 0.03 });
    const frequencyHz = logGrid(500, 14_000, 12);
    const { excessGroupDelayS } = excessPhaseOfImpulse(gated, { frequencyHz });
    const average = (from: number, to: number) => {
      const values = Array.from(excessGroupDelayS).filter(
        (_, i) => frequencyHz[i]! >= from && frequencyHz[i]! <= to,
      );
      return values.reduce((a, b) => a + b, 0) / values.length;
    };
    const difference = average(700, 2000) - average(6000, 14_000);
    expect(Math.abs(difference - 0.2e-3)).toBeLessThan(0.05e-3);
  });
});
