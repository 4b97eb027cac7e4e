import { describe, expect, it } from 'vitest';
import { realFft } from '../../src/impulse/fft.js';
import { minimumPhase } from '../../src/impulse/minimumPhase.js';
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
});
