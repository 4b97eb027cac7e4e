import { seededRandom } from '../../src/fit/seededRandom.js';
import { inverseRealFft } from '../../src/impulse/samples/fft.js';

/** Peak of the noise under full scale, in dB: room for filters that turn phases and so raise peaks. */
const PEAK_DB = -3;

/**
 * Pink noise that repeats without a seam: a sum of sines with a whole number of periods in the buffer, each octave of
 * the same power, phases by chance. The same seed gives the same noise.
 *
 * @param length samples, a power of two
 * @param fromHz silent below
 * @param toHz silent above
 */
export function pinkNoise(
  length: number,
  sampleRateHz: number,
  seed: number,
  fromHz = 20,
  toHz = 20_000,
): Float32Array<ArrayBuffer> {
  const random = seededRandom(seed);
  const bins = new Float64Array(length + 2);
  const hzPerBin = sampleRateHz / length;
  const first = Math.ceil(fromHz / hzPerBin);
  const last = Math.min(Math.floor(toHz / hzPerBin), length / 2 - 1);
  for (let k = first; k <= last; k++) {
    const phaseRad = 2 * Math.PI * random();
    // Power falls as 1/f: amplitude as 1/√f.
    const amplitude = 1 / Math.sqrt(k);
    bins[2 * k] = amplitude * Math.cos(phaseRad);
    bins[2 * k + 1] = amplitude * Math.sin(phaseRad);
  }
  const samples = inverseRealFft({ size: length, bins });
  let peak = 0;
  for (let i = 0; i < length; i++) peak = Math.max(peak, Math.abs(samples[i]!));
  const scale = 10 ** (PEAK_DB / 20) / peak;
  const scaled = new Float32Array(length);
  for (let i = 0; i < length; i++) scaled[i] = scale * samples[i]!;
  return scaled;
}
