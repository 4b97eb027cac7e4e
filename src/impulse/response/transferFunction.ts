import { atan2 } from '../../elementary/arctangent.js';
import { log10 } from '../../elementary/logarithm.js';
import { hypot } from '../../elementary/power.js';
import { cos, sin } from '../../elementary/sine.js';
import { powerOfTwoAtLeast, realFft } from '../samples/fft.js';
import type { GatedImpulse } from './gate.js';

/** A finely sampled spectrum, its phase taken from the arrival of the direct sound. */
export interface TransferFunction {
  readonly sampleRateHz: number;
  /** Real and imaginary part at k·`stepHz`, k = 0 … n. */
  readonly re: Float64Array;
  readonly im: Float64Array;
  /** Unwrapped, at the same points. */
  readonly phaseRad: Float64Array;
  readonly stepHz: number;
}

/** Zero-padding makes the spectrum so dense that four-point interpolation between its bins is exact enough. */
const padding = 4;
const leastSize = 1 << 14;

export function transferFunction({ samples, sampleRateHz, arrivalSample }: GatedImpulse): TransferFunction {
  const size = powerOfTwoAtLeast(Math.max(leastSize, padding * samples.length));
  const { bins } = realFft(samples, size);
  const n = size / 2;
  const re = new Float64Array(n + 1);
  const im = new Float64Array(n + 1);
  const phaseRad = new Float64Array(n + 1);
  let last = 0;
  for (let k = 0; k <= n; k++) {
    const angle = (2 * Math.PI * k * arrivalSample) / size;
    const c = cos(angle);
    const s = sin(angle);
    re[k] = bins[2 * k]! * c - bins[2 * k + 1]! * s;
    im[k] = bins[2 * k]! * s + bins[2 * k + 1]! * c;
    const phase = atan2(im[k]!, re[k]!);
    last = k === 0 ? phase : phase - 2 * Math.PI * Math.round((phase - last) / (2 * Math.PI));
    phaseRad[k] = last;
  }
  return { sampleRateHz, re, im, phaseRad, stepHz: sampleRateHz / size };
}

/** Level and unwrapped phase at any frequency below half the sample rate, by four-point Lagrange interpolation. */
export function responseAt(
  { re, im, phaseRad, stepHz }: TransferFunction,
  frequencyHz: number,
): { levelDb: number; phaseRad: number } {
  const position = frequencyHz / stepHz;
  const k = Math.min(re.length - 3, Math.max(1, Math.floor(position)));
  const t = position - k;
  const before = (-t * (t - 1) * (t - 2)) / 6;
  const left = ((t + 1) * (t - 1) * (t - 2)) / 2;
  const right = (-(t + 1) * t * (t - 2)) / 2;
  const after = ((t + 1) * t * (t - 1)) / 6;
  const at = (values: Float64Array): number =>
    before * values[k - 1]! + left * values[k]! + right * values[k + 1]! + after * values[k + 2]!;
  const x = at(re);
  const y = at(im);
  const phase = atan2(y, x);
  const near = phaseRad[k]! + t * (phaseRad[k + 1]! - phaseRad[k]!);
  return {
    levelDb: 20 * log10(Math.max(hypot(x, y), Number.MIN_VALUE)),
    phaseRad: phase - 2 * Math.PI * Math.round((phase - near) / (2 * Math.PI)),
  };
}
