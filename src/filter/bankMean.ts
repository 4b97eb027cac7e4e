import { exp } from '../elementary/exponential.js';
import { log } from '../elementary/logarithm.js';
import { bankResponseDb } from './bankResponseDb.js';
import { featureFrequencies } from './featureFrequencies.js';
import type { Filter } from './filter.js';

/**
 * Mean level in dB of filters in series from `fromHz` to `toHz`, every octave weighing the same: the integral of
 * the level over ln f divided by ln(toHz/fromHz), by three-point Gauss–Legendre quadrature between points as dense
 * as the filters' poles and zeros ask for. Accurate to about 1e-6 dB.
 *
 * @param responseDb what the filters really do, where that is not quite what they say
 * @throws RangeError unless 0 < `fromHz` < `toHz` ≤ fs/2 and the filters' numbers are sound
 */
export function bankMean(
  filters: readonly Filter[],
  sampleRateHz: number,
  fromHz: number,
  toHz: number,
  responseDb = (hz: Float64Array): Float64Array => bankResponseDb(filters, sampleRateHz, hz),
): number {
  if (!(fromHz > 0 && toHz > fromHz && toHz <= sampleRateHz / 2)) {
    throw new RangeError(
      `the range must lie above 0 and within ${sampleRateHz / 2} Hz, lower end first; received ${fromHz} to ${toHz}`,
    );
  }
  const edgesHz = featureFrequencies(filters, sampleRateHz, fromHz, toHz);
  const panels = edgesHz.length - 1;
  const nodesHz = new Float64Array(3 * panels);
  const weight = new Float64Array(3 * panels);
  for (let i = 0; i < panels; i += 1) {
    const half = log(edgesHz[i + 1]! / edgesHz[i]!) / 2;
    const middle = log(edgesHz[i]!) + half;
    for (let j = 0; j < 3; j += 1) {
      nodesHz[3 * i + j] = exp(middle + NODES[j]! * half);
      weight[3 * i + j] = WEIGHTS[j]! * half;
    }
  }
  const levelDb = responseDb(nodesHz);
  let integral = 0;
  for (let i = 0; i < levelDb.length; i += 1) integral += weight[i]! * levelDb[i]!;
  return integral / log(toHz / fromHz);
}

const NODES = [-Math.sqrt(3 / 5), 0, Math.sqrt(3 / 5)];
const WEIGHTS = [5 / 9, 8 / 9, 5 / 9];
