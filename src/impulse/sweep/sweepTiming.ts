import { exp, pow2 } from '../../elementary/exponential.js';
import { log, log2 } from '../../elementary/logarithm.js';
import { upperMedian } from '../../elementary/upperMedian.js';
import { powerOfTwoAtLeast, realFft } from '../samples/fft.js';
import { analyticSignal } from './compressedImpulse.js';
import { inverseSweepParameters, type SweepParameters } from './sweepParameters.js';

export interface SweepTiming {
  /** By how much longer the recorded sweep lasts than the one that was told of, as a share of its length. */
  readonly longerBy: number;
  /** How much later the highest band comes than the lowest. */
  readonly spreadS: number;
}

interface Search {
  readonly lowestHz: number;
  readonly highestHz: number;
  /** A line through no more bands than that says nothing. */
  readonly fewest: number;
  readonly leastSpreadS: number;
}

/** Around the peak, for sweeps that differ a little: no crossover spreads its sound as evenly over the octaves and as far. */
const NEAR: Search = { lowestHz: 250, highestHz: 8000, fewest: 7, leastSpreadS: 1e-3 };
const NEAR_S = 0.25;
/** Over all lags, for another sweep altogether; in the lower octaves, where it costs little. */
const WIDE: Search = { lowestHz: 125, highestHz: 1000, fewest: 5, leastSpreadS: 0.1 };
const PER_OCTAVE = 2;
/** Standard deviation of a band over log frequency, and how many of them it reaches. */
const BAND_OCTAVES = 0.35;
const BAND_REACH = 4;
/** Of the spread: how far half of the bands may lie from the line. */
const EVEN_SHARE = 0.15;

/**
 * A sweep that lasted longer than the one it is divided by leaves a response whose arrival moves with ln f: by
 * δL·ln(f₂/f₁) from band to band, L = T/ln(f₂/f₁) (Farina 2000). Undefined where the bands come together, or late in
 * another way.
 *
 * @param response to the sweep at all lags, in a circle
 * @param peak its greatest sample
 */
export function sweepTiming(
  response: Float64Array,
  peak: number,
  parameters: SweepParameters,
): SweepTiming | undefined {
  const around = (reach: number) =>
    Float64Array.from(
      { length: 2 * reach },
      (_, i) => response[(peak - reach + i + response.length) % response.length]!,
    );
  const near = Math.min(response.length / 2, Math.round(NEAR_S * parameters.sampleRateHz));
  return (
    evenlySpread(around(near), parameters, NEAR) ??
    evenlySpread(around(response.length / 2), parameters, WIDE)
  );
}

function evenlySpread(
  samples: Float64Array,
  parameters: SweepParameters,
  { lowestHz, highestHz, fewest, leastSpreadS }: Search,
): SweepTiming | undefined {
  const { sampleRateHz } = parameters;
  const lowest = Math.max(lowestHz, 2 * parameters.fromHz);
  const highest = Math.min(highestHz, parameters.toHz / 2);
  const count = Math.floor(PER_OCTAVE * log2(highest / lowest)) + 1;
  if (count < fewest) return undefined;
  const size = powerOfTwoAtLeast(samples.length);
  const { bins } = realFft(samples, size);
  const bands = Array.from({ length: count }, (_, i) => {
    const hz = lowest * pow2(i / PER_OCTAVE);
    return { lnHz: log(hz), arrivalS: bandArrival(bins, (hz * size) / sampleRateHz) / sampleRateHz };
  });
  const slopes = bands.flatMap((a, i) =>
    bands.slice(i + 1).map((b) => (b.arrivalS - a.arrivalS) / (b.lnHz - a.lnHz)),
  );
  // Theil and Sen's line: a band in which a reflection is strongest does not bend it.
  const slope = upperMedian(slopes);
  const spreadS = slope * (bands.at(-1)!.lnHz - bands[0]!.lnHz);
  const offsets = bands.map(({ lnHz, arrivalS }) => arrivalS - slope * lnHz);
  const middle = upperMedian(offsets);
  const scatter = upperMedian(offsets.map((s) => Math.abs(s - middle)));
  if (Math.abs(spreadS) < leastSpreadS || scatter > EVEN_SHARE * Math.abs(spreadS)) return undefined;
  return { longerBy: slope / inverseSweepParameters(parameters).timeConstantS, spreadS };
}

/** Sample, a fraction of one too, at which the envelope of a band is greatest; only as many points as it needs. */
function bandArrival(bins: Float64Array, centre: number): number {
  const size = bins.length - 2;
  const far = pow2(BAND_REACH * BAND_OCTAVES);
  const highest = Math.min(size / 2, Math.floor(centre * far));
  const points = Math.min(size, powerOfTwoAtLeast(4 * highest));
  const band = new Float64Array(points + 2);
  for (let k = Math.max(1, Math.floor(centre / far)); k <= highest; k++) {
    const off = log2(k / centre) / BAND_OCTAVES;
    const weight = exp(-0.5 * off * off);
    band[2 * k] = weight * bins[2 * k]!;
    band[2 * k + 1] = weight * bins[2 * k + 1]!;
  }
  const { re, im } = analyticSignal(band, 1, points);
  let [at, most] = [0, 0];
  re.forEach((v, n) => {
    const power = v * v + im[n]! ** 2;
    if (power > most) [at, most] = [n, power];
  });
  return (at * size) / points;
}
