import { sin } from '../../elementary/sine.js';
import { powerOfTwoAtLeast, realFft } from './fft.js';

/** Power per sample over frequency: white noise of variance σ² has σ² everywhere. */
export interface PowerDensity {
  /** At k·`stepHz`, k = 0 … size/2. */
  readonly power: Float64Array;
  readonly stepHz: number;
  /** The window smears what lies lower. */
  readonly resolvedFromHz: number;
  /** Samples that it was taken from. */
  readonly count: number;
}

/** Of a stretch of noise, through a Hann window. */
export function powerDensity(part: Float64Array, sampleRateHz: number): PowerDensity {
  const count = part.length;
  let weightPower = 0;
  const windowed = part.map((v, i) => {
    const weight = sin((Math.PI * (i + 0.5)) / count) ** 2;
    weightPower += weight * weight;
    return weight * v;
  });
  const size = powerOfTwoAtLeast(count);
  const power = powerOf(realFft(windowed, size).bins).map((p) => p / weightPower);
  return { power, stepHz: sampleRateHz / size, resolvedFromHz: (2 * sampleRateHz) / count, count };
}

/** |X|² of pairs of real and imaginary part. */
export const powerOf = (bins: Float64Array): Float64Array =>
  Float64Array.from({ length: bins.length / 2 }, (_, k) => bins[2 * k]! ** 2 + bins[2 * k + 1]! ** 2);

/** Mean of values at k·`stepHz` from one frequency to another, at least of the one bin between them; never of 0 Hz. */
export function meanBetween(power: Float64Array, stepHz: number, fromHz: number, toHz: number): number {
  const last = power.length - 1;
  const from = Math.max(1, Math.min(last, Math.ceil(fromHz / stepHz)));
  const to = Math.max(from, Math.min(last, Math.floor(toHz / stepHz)));
  let sum = 0;
  for (let k = from; k <= to; k++) sum += power[k]!;
  return sum / (to + 1 - from);
}
