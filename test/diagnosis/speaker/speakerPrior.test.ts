import { expect, test } from 'vitest';
import { speakerWhitener } from '../../../src/diagnosis/speaker/speakerPrior.js';
import { cholesky, solveLower } from '../../../src/elementary/cholesky.js';

const n = 60;
// Not evenly spaced: half as dense from the twentieth point on.
const octave = Float64Array.from({ length: n }, (_, i) => (i < 20 ? i / 48 : 20 / 48 + (i - 20) / 24));
const ripple = octave.map((x) => 0.2 + 0.3 * x);
const noiseDb = octave.map((x) => 0.1 + 0.05 * x);
const ripples = [
  { sigmaDb: 4, widthOctaves: 1.3 },
  { sigmaDb: 1.2, widthOctaves: 0.22 },
  { sigmaDb: ripple, widthOctaves: 0.045 },
];

/** The whole covariance matrix, from the closed form of the Matérn 5/2 covariance. */
function covariance(): Float64Array {
  const middle = octave[n >> 1]!;
  const k = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      let sum = 30 ** 2 + 10 ** 2 * (octave[i]! - middle) * (octave[j]! - middle);
      for (const { sigmaDb, widthOctaves } of ripples) {
        const d = (Math.sqrt(5) * Math.abs(octave[i]! - octave[j]!)) / widthOctaves;
        const variance = typeof sigmaDb === 'number' ? sigmaDb ** 2 : sigmaDb[i]! * sigmaDb[j]!;
        sum += variance * (1 + d + (d * d) / 3) * Math.exp(-d);
      }
      k[i * n + j] = sum + (i === j ? noiseDb[i]! ** 2 : 0);
    }
  }
  return k;
}

test('the filter whitens as the Cholesky factor of the whole covariance matrix does', () => {
  const lower = cholesky(covariance(), n);
  const whitener = speakerWhitener(octave, { ripples, noiseDb });
  const curve = octave.map((x) => 3 * Math.sin(9 * x) + 2 * x);
  const dense = solveLower(lower, curve);
  whitener.whiten(curve).forEach((v, i) => {
    // Both run through some 60·11 roundings of numbers up to 1e3.
    expect(Math.abs(v - dense[i]!)).toBeLessThan(1e-8);
  });
  let logDeterminant = 0;
  for (let i = 0; i < n; i++) logDeterminant += 2 * Math.log(lower[i * n + i]!);
  expect(whitener.logDeterminant).toBeCloseTo(logDeterminant, 8);
});

test('a level and a slope cost next to nothing, a narrow notch much', () => {
  const whitener = speakerWhitener(octave, { ripples, noiseDb });
  const cost = (curve: Float64Array) => whitener.whiten(curve).reduce((sum, v) => sum + v * v, 0);
  expect(cost(octave.map((x) => 5 + 3 * x))).toBeLessThan(1);
  expect(cost(octave.map((_, i) => (i === 30 ? -6 : 0)))).toBeGreaterThan(100);
});
