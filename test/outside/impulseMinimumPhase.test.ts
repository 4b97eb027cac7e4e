import { describe, expect, it } from 'vitest';
import { excessPhaseOfImpulse } from '../../src/impulse/phase/excessPhaseOfImpulse.js';
import { minimumPhase } from '../../src/impulse/phase/minimumPhase.js';
import { minimumPhaseFromCurve } from '../../src/impulse/phase/minimumPhaseFromCurve.js';
import { gateImpulse } from '../../src/impulse/response/gate.js';
import { impulseToCurve } from '../../src/impulse/response/impulseToCurve.js';
import { inverseRealFft, realFft } from '../../src/impulse/samples/fft.js';
import { chainResponse, filtered } from '../impulse/digitalSystem.js';
import reference from '../reference/minimumPhase.json' with { type: 'json' };

// Source, version, command and date stand in test/reference/minimumPhase.json; the script lies beside it.

const size = 1 << 16;
const wrap = (angle: number) => angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI));

function logMagnitudeOf(taps: readonly number[]): Float64Array {
  const { bins } = realFft(Float64Array.from(taps), size);
  return Float64Array.from({ length: size / 2 + 1 }, (_, k) =>
    Math.log(Math.hypot(bins[2 * k]!, bins[2 * k + 1]!)),
  );
}

/** Straight between bins: at 65536 points a tap's phase bends by less than 1e-6 rad there. */
function at(values: Float64Array, radPerSample: number): number {
  const position = (radPerSample / (2 * Math.PI)) * size;
  const k = Math.floor(position);
  return values[k]! + (position - k) * (values[k + 1]! - values[k]!);
}

describe('minimumPhase against numpy and scipy', () => {
  const { phaseRad, errorRad } = minimumPhase(logMagnitudeOf(reference.taps));

  it('is that of the filter whose zeros numpy turned into the unit circle', () => {
    reference.frequencyRadPerSample.forEach((w, i) => {
      expect(Math.abs(wrap(at(phaseRad, w) - reference.minimumPhaseRad[i]!))).toBeLessThan(2e-5);
    });
    expect(errorRad).toBeLessThan(1e-4);
  });

  it('is that of scipy.signal.hilbert applied to the logarithm of the magnitude', () => {
    reference.frequencyRadPerSample.forEach((w, i) => {
      expect(Math.abs(wrap(at(phaseRad, w) - reference.minimumPhaseByHilbertRad[i]!))).toBeLessThan(2e-5);
    });
  });

  it('differs widely from the measured phase of the mixed-phase filter, so the test can fail', () => {
    const differences = reference.frequencyRadPerSample.map((w, i) =>
      Math.abs(wrap(at(phaseRad, w) - reference.measuredPhaseRad[i]!)),
    );
    expect(Math.max(...differences)).toBeGreaterThan(1);
  });

  it('is the impulse response with the taps that numpy and scipy find', () => {
    const logMagnitude = logMagnitudeOf(reference.taps);
    const bins = new Float64Array(size + 2);
    logMagnitude.forEach((l, k) => {
      bins[2 * k] = Math.exp(l) * Math.cos(phaseRad[k]!);
      bins[2 * k + 1] = Math.exp(l) * Math.sin(phaseRad[k]!);
    });
    const taps = inverseRealFft({ size, bins });
    reference.minimumPhaseTaps.forEach((tap, n) => {
      expect(Math.abs(taps[n]! - tap)).toBeLessThan(1e-5);
    });
    // scipy's own cepstrum is as long as ours: both err by the same small aliasing.
    reference.minimumPhaseTapsHomomorphic.forEach((tap, n) => {
      expect(Math.abs(taps[n]! - tap)).toBeLessThan(1e-5);
    });
    expect(Math.max(...taps.slice(reference.taps.length).map(Math.abs))).toBeLessThan(1e-5);
  });
});

describe('a recursive system against scipy.signal.sosfreqz', () => {
  const { sampleRateHz, sos, frequencyHz, levelDb, phaseRad } = reference.recursive;
  const sections = sos.map(([b0, b1, b2, , a1, a2]) => ({ b0: b0!, b1: b1!, b2: b2!, a1: a1!, a2: a2! }));
  const at = Float64Array.from(frequencyHz);

  it('gets its level and phase from the impulse response, and no excess', () => {
    const input = new Float64Array(48_000);
    input[100] = 1;
    const gated = gateImpulse({ samples: filtered(sections, input), sampleRateHz }, 100 / sampleRateHz);
    const { minimumPhaseRad, excessGroupDelayS } = excessPhaseOfImpulse(gated, { frequencyHz: at });
    const { curve } = impulseToCurve(
      { samples: filtered(sections, input), sampleRateHz },
      { arrivalS: 100 / sampleRateHz, frequencyHz: at },
    );
    frequencyHz.forEach((f, i) => {
      expect(Math.abs(curve.levelDb[i]! - levelDb[i]!)).toBeLessThan(0.001);
      expect(Math.abs(wrap(curve.phaseRad![i]! - phaseRad[i]!))).toBeLessThan(1e-4);
      // Rounding in the recursion leaves 4e-12 at 0 Hz where a fourfold zero should be: an error that falls with 1/f.
      expect(Math.abs(wrap(minimumPhaseRad[i]! - phaseRad[i]!))).toBeLessThan(0.3 / f + 1e-4);
      expect(Math.abs(excessGroupDelayS[i]! * f)).toBeLessThan(2e-3);
    });
  });

  it('gets its phase to a degree from the level of a text curve, a common delay aside', () => {
    const grid = Float64Array.from({ length: 480 }, (_, i) => 15 * 2 ** (i / 45.5));
    const level = chainResponse(sections, sampleRateHz, grid).levelDb;
    const phase = minimumPhaseFromCurve({ frequencyHz: grid, levelDb: level });
    frequencyHz.forEach((f, i) => {
      if (f < 50 || f > 3000) return;
      const k = grid.findIndex((g) => g >= f);
      const share = Math.log(f / grid[k - 1]!) / Math.log(grid[k]! / grid[k - 1]!);
      const here = phase[k - 1]! + share * (phase[k]! - phase[k - 1]!);
      expect(Math.abs(wrap(here - phaseRad[i]!))).toBeLessThan(Math.PI / 180);
    });
  });
});
