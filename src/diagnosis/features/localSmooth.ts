import { exp } from '../../elementary/exponential.js';

/**
 * Smoothing of levels in dB with a Gaussian of standard deviation `sigmaOctaves`, a straight line fitted inside the
 * window so that slopes and ends keep their place. In dB and not in power: a null's bottom counts like a peak's top.
 *
 * @param octave ascending positions, log2 of frequency, n
 */
export function localSmooth(octave: Float64Array, levelDb: Float64Array, sigmaOctaves: number): Float64Array {
  const n = octave.length;
  const out = new Float64Array(n);
  const reach = 3 * sigmaOctaves;
  let from = 0;
  let to = 0;
  for (let i = 0; i < n; i++) {
    const at = octave[i]!;
    while (octave[from]! < at - reach) from++;
    while (to < n && octave[to]! <= at + reach) to++;
    let w0 = 0;
    let wx = 0;
    let wy = 0;
    let wxx = 0;
    let wxy = 0;
    for (let k = from; k < to; k++) {
      const u = octave[k]! - at;
      const w = exp((-u * u) / (2 * sigmaOctaves * sigmaOctaves));
      w0 += w;
      wx += w * u;
      wy += w * levelDb[k]!;
      wxx += w * u * u;
      wxy += w * u * levelDb[k]!;
    }
    const determinant = w0 * wxx - wx * wx;
    out[i] = determinant > 1e-12 * w0 * w0 ? (wxx * wy - wx * wxy) / determinant : levelDb[i]!;
  }
  return out;
}
