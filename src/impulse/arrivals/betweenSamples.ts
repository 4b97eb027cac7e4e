import { hypot } from '../../elementary/power.js';
import { cos, sin } from '../../elementary/sine.js';
import type { ComplexSignal } from '../sweep/compressedImpulse.js';

const reach = 24;

/**
 * Value of a band-limited complex signal between its samples: sinc interpolation over ±24 samples, faded as the
 * square of a cosine. Where the band ends well below half the sample rate the error is about 1e-4 of full scale.
 */
export function valueAt({ re, im }: ComplexSignal, position: number): { re: number; im: number } {
  const nearest = Math.round(position);
  const offset = position - nearest;
  if (Math.abs(offset) < 1e-9) return { re: re[nearest] ?? 0, im: im[nearest] ?? 0 };
  // sin(π(position − n)) = ±sin(π·offset), the sign alternating from sample to sample.
  const sine = sin(Math.PI * offset) / Math.PI;
  let sumRe = 0;
  let sumIm = 0;
  for (let n = Math.max(0, nearest - reach); n <= Math.min(re.length - 1, nearest + reach); n++) {
    const distance = position - n;
    const sinc = ((n - nearest) % 2 === 0 ? sine : -sine) / distance;
    const weight = sinc * cos((Math.PI / 2) * (distance / (reach + 1))) ** 2;
    sumRe += weight * re[n]!;
    sumIm += weight * im[n]!;
  }
  return { re: sumRe, im: sumIm };
}

/** Position, to a small fraction of a sample, at which the envelope is greatest within a sample of `index`. */
export function peakPosition(signal: ComplexSignal, index: number): number {
  const power = (position: number): number => {
    const { re, im } = valueAt(signal, position);
    return re * re + im * im;
  };
  // Golden-section search: the envelope has one maximum there.
  const ratio = (Math.sqrt(5) - 1) / 2;
  let [low, high] = [index - 1, index + 1];
  let left = high - ratio * (high - low);
  let right = low + ratio * (high - low);
  let [atLeft, atRight] = [power(left), power(right)];
  while (high - low > 1e-4) {
    if (atLeft > atRight) {
      [high, right, atRight] = [right, left, atLeft];
      left = high - ratio * (high - low);
      atLeft = power(left);
    } else {
      [low, left, atLeft] = [left, right, atRight];
      right = low + ratio * (high - low);
      atRight = power(right);
    }
  }
  return (low + high) / 2;
}

/** |signal| at every sample. */
export function envelope({ re, im }: ComplexSignal): Float64Array {
  return re.map((v, i) => hypot(v, im[i]!));
}
