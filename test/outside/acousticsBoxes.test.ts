import { describe, expect, it } from 'vitest';
import {
  boxLevelDb,
  boxSlopeDbPerOctave,
  sealedCornerHz,
  sealedPeakDb,
} from '../../src/acoustics/boxRolloff.js';

describe('closed box against R. H. Small, "Closed-box loudspeaker systems", JAES 20 (1972)', () => {
  // f3/fc and peak in dB by Qtc, computed from his equations.
  it.each([
    [0.5, 1.5538, 0],
    [1 / Math.sqrt(3), 1.272, 0],
    [Math.SQRT1_2, 1.0, 0],
    [1.0, 0.7862, 1.249],
    [1.2, 0.7358, 2.412],
    [1.5, 0.6993, 4.033],
    [2.0, 0.6736, 6.301],
  ])('Qtc %d: f3/fc %d, peak %d dB', (qtc, ratio, peakDb) => {
    const box = { kind: 'sealed', resonanceHz: 60, qtc } as const;
    expect(Math.abs(sealedCornerHz(box) / 60 - ratio)).toBeLessThan(6e-5);
    expect(boxLevelDb(sealedCornerHz(box), box)).toBeCloseTo(10 * Math.log10(0.5), 9);
    expect(Math.abs(sealedPeakDb(qtc) - peakDb)).toBeLessThan(6e-4);
    let highestDb = 0;
    for (let f = 20; f < 6000; f *= 1.002) highestDb = Math.max(highestDb, boxLevelDb(f, box));
    expect(Math.abs(highestDb - peakDb)).toBeLessThan(2e-3);
  });

  it('falls 12 dB per octave below its corner, a vented one 24', () => {
    const sealed = { kind: 'sealed', resonanceHz: 60, qtc: 0.8 } as const;
    const vented = { kind: 'vented', cornerHz: 60 } as const;
    for (const [box, slope] of [
      [sealed, 12.04],
      [vented, 24.08],
    ] as const) {
      expect(Math.abs(boxSlopeDbPerOctave(box) - slope)).toBeLessThan(5e-3);
      expect(Math.abs(boxLevelDb(2, box) - boxLevelDb(1, box) - slope)).toBeLessThan(0.03);
    }
  });
});

describe('vented box against A. N. Thiele, "Loudspeakers in vented boxes", JAES 19 (1971), alignment 5', () => {
  // Fourth-order Butterworth, computed: −10·log10(1 + (f3/f)⁸).
  it.each([
    [0.5, -24.1],
    [0.7, -12.64],
    [0.8, -8.43],
    [1, -3.01],
    [1.25, -0.67],
  ])('at %d f3: %d dB', (ratio, expectedDb) => {
    expect(Math.abs(boxLevelDb(47 * ratio, { kind: 'vented', cornerHz: 47 }) - expectedDb)).toBeLessThan(
      6e-3,
    );
  });
});
