import { log10 } from '../elementary/logarithm.js';
import { cbrt } from '../elementary/power.js';
import { cos, sin } from '../elementary/sine.js';

/**
 * Point source on a rigid sphere of radius a, far field (Morse, Vibration and Sound, §27; Olson 1951):
 *
 *   D(ka, θ) = 1/(j·(ka)²) · Σ (2n+1)·jⁿ·Pₙ(cos θ)/hₙ⁽²⁾′(ka)
 *
 * for e^{+jωt}. D is relative to the same source without the sphere; its phase is referred to the sphere's
 * centre. D → 1 for ka → 0, |D(0)| → 2 (+6 dB) for ka → ∞.
 */

/** Terms 1/(j·(ka)²)·(2n+1)·jⁿ/hₙ′(ka) of the series, which do not depend on the angle. */
export interface SphereSeries {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

export function sphereSeries(ka: number): SphereSeries {
  const count = ka < 1e-3 ? 2 : Math.ceil(ka + 6 * cbrt(ka)) + 10;
  const re = new Float64Array(count);
  const im = new Float64Array(count);
  // h = j − i·y, by upward recursion: where j loses digits y is so large that h does not.
  let j0 = sin(ka) / ka;
  let y0 = -cos(ka) / ka;
  let j1 = (j0 - cos(ka)) / ka;
  let y1 = (y0 - sin(ka)) / ka;
  for (let n = 0; n < count; n++) {
    // f′ₙ = (n/x)·fₙ − fₙ₊₁
    const dj = (n / ka) * j0 - j1;
    const dy = (n / ka) * y0 - y1;
    // 1/(i·x²·(dj − i·dy)) = (dy − i·dj)/(x²·(dj² + dy²)), scaled first so that dy² cannot overflow
    const scale = Math.max(Math.abs(dj), Math.abs(dy));
    const u = dj / scale;
    const v = dy / scale;
    const factor = (2 * n + 1) / (ka * ka * scale * (u * u + v * v));
    const a = v * factor;
    const b = -u * factor;
    // times iⁿ
    const turn = n % 4;
    re[n] = turn === 0 ? a : turn === 1 ? -b : turn === 2 ? -a : b;
    im[n] = turn === 0 ? b : turn === 1 ? a : turn === 2 ? -b : -a;
    const jn = ((2 * n + 3) / ka) * j1 - j0;
    const yn = ((2 * n + 3) / ka) * y1 - y0;
    j0 = j1;
    y0 = y1;
    j1 = jn;
    y1 = yn;
  }
  return { re, im };
}

/** Sums a series toward an angle off the axis through the source (0: in front, −1: straight behind). */
export function sumSphereSeries({ re, im }: SphereSeries, cosTheta: number): { re: number; im: number } {
  let p0 = 1;
  let p1 = cosTheta;
  let sumRe = 0;
  let sumIm = 0;
  for (let n = 0; n < re.length; n++) {
    sumRe += re[n]! * p0;
    sumIm += im[n]! * p0;
    const p2 = ((2 * n + 3) * cosTheta * p1 - (n + 1) * p0) / (n + 2);
    p0 = p1;
    p1 = p2;
  }
  return { re: sumRe, im: sumIm };
}

/** Far-field pressure at `thetaRad` off the axis, relative to the source without the sphere, phase from its centre. */
export function spherePressure(ka: number, thetaRad: number): { re: number; im: number } {
  return sumSphereSeries(sphereSeries(ka), cos(thetaRad));
}

/** Level on the axis over the low-frequency level, in dB: 0 rising to +6. */
export function sphereStepDb(ka: number): number {
  const { re, im } = spherePressure(ka, 0);
  return 10 * log10(re * re + im * im);
}

/** ka at which the step on the axis has risen by 3 dB; solved from the series. */
const halfStepKa = 0.98892;

/** Where a baffle of this width has stepped up by 3 dB, in Hz, taken as a sphere of that diameter. */
export function baffleStepHz(widthM: number, speedOfSoundMs: number): number {
  return (halfStepKa * speedOfSoundMs) / (Math.PI * widthM);
}
