import { describe, expect, it } from 'vitest';
import { foldedCepstrum, minimumPhase } from '../../../src/impulse/phase/minimumPhase.js';

const size = 4096;
const omega = Float64Array.from({ length: size / 2 + 1 }, (_, k) => (2 * Math.PI * k) / size);

describe('minimumPhase', () => {
  // Closed form: the two-tap system [a, 1], |a| < 1, has the minimum phase of [1, a].
  it.each([0.3, -0.6, 0.9, -0.98])('of the two-tap system [%d, 1] is the phase of [1, a]', (a) => {
    const logMagnitude = omega.map((w) => 0.5 * Math.log(1 + a * a + 2 * a * Math.cos(w)));
    const { phaseRad, errorRad } = minimumPhase(logMagnitude);
    let worst = 0;
    phaseRad.forEach((phase, k) => {
      const exact = Math.atan2(-a * Math.sin(omega[k]!), 1 + a * Math.cos(omega[k]!));
      worst = Math.max(worst, Math.abs(phase - exact));
    });
    expect(worst).toBeLessThan(1e-9);
    expect(worst).toBeLessThanOrEqual(errorRad + 1e-12);
  });

  it('states an error that covers the true one where the transform is too short', () => {
    const a = 0.999;
    const short = Float64Array.from({ length: 129 }, (_, k) => (Math.PI * k) / 128);
    const { phaseRad, errorRad } = minimumPhase(
      short.map((w) => 0.5 * Math.log(1 + a * a + 2 * a * Math.cos(w))),
    );
    let worst = 0;
    phaseRad.forEach((phase, k) => {
      const w = short[k]!;
      if (k % 2 === 0)
        worst = Math.max(worst, Math.abs(phase - Math.atan2(-a * Math.sin(w), 1 + a * Math.cos(w))));
    });
    expect(worst).toBeGreaterThan(1e-3);
    expect(worst).toBeLessThanOrEqual(errorRad);
    expect(errorRad).toBeLessThan(50 * worst);
  });

  it('of a constant level is zero', () => {
    const { phaseRad, errorRad } = minimumPhase(omega.map(() => 1.7));
    expect(Math.max(...phaseRad.map(Math.abs))).toBeLessThan(1e-13);
    expect(errorRad).toBeLessThan(1e-13);
  });
});

describe('foldedCepstrum', () => {
  it('of a two-tap system is the series of ln(1 + a·z⁻¹)', () => {
    const a = 0.5;
    const cepstrum = foldedCepstrum(omega.map((w) => 0.5 * Math.log(1 + a * a + 2 * a * Math.cos(w))));
    expect(cepstrum[0]).toBeCloseTo(0, 14);
    for (let n = 1; n < 20; n++) expect(cepstrum[n]).toBeCloseTo(((-1) ** (n + 1) * a ** n) / n, 13);
    expect(Math.max(...cepstrum.slice(size / 2 + 1).map(Math.abs))).toBe(0);
  });
});
