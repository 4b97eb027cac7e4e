import type { Curve } from '../../curve/curve.js';
import { logGrid } from '../../curve/logGrid.js';
import { exp, pow2 } from '../../elementary/exponential.js';
import { log10 } from '../../elementary/logarithm.js';
import { sin } from '../../elementary/sine.js';
import { powerOfTwoAtLeast, realFft } from '../samples/fft.js';
import { inversePower, noiseAround, type RecordedNoise } from './recordedNoise.js';
import { inverseSweepParameters, type SweepParameters } from './sweepParameters.js';

/** The stretch of a deconvolved sweep that holds one harmonic order. */
export interface OrderImpulse {
  readonly order: number;
  readonly samples: Float64Array;
  /** Samples before the order's own time zero. */
  readonly early: number;
}

/** One harmonic order over the frequency that excites it. */
export interface HarmonicDistortion {
  readonly order: number;
  /** Its level over the exciting frequency, on the scale of the linear response. */
  readonly curve: Curve;
  /** The same relative to the linear response at the exciting frequency. */
  readonly relativeDb: Float64Array;
  /** What the noise alone would give in its place; absent where it is not known. */
  readonly noiseDb?: Float64Array;
}

const perOctave = 24;
/** Levels are means over this span, which leaves the speaker's resonances and takes out the ripple of the window. */
const averagedOctaves = 1 / 12;
/** Exciting frequencies stay this far from the parts of the sweep that are faded, where distortion is less. */
const clearOctaves = 1 / 6;

/**
 * Levels of the second and higher orders, from the response of each; the first of `orders` is the linear one.
 *
 * @param noise of the recording
 */
export function harmonicDistortion(
  orders: readonly OrderImpulse[],
  parameters: SweepParameters,
  noise?: RecordedNoise,
): HarmonicDistortion[] {
  const { fromHz, toHz, sampleRateHz, fadeInS, fadeOutS } = parameters;
  const [linear, ...others] = orders;
  if (!linear) return [];
  const linearPower = powerSpectrum(linear, sampleRateHz);
  const { timeConstantS: L } = inverseSweepParameters(parameters);
  const start = fromHz * exp(fadeInS / L) * pow2(clearOctaves);
  return others.flatMap((impulse) => {
    const { order } = impulse;
    const end = (toHz * exp(-fadeOutS / L)) / order / pow2(clearOctaves);
    const frequencyHz = logGrid(start, end, perOctave);
    if (frequencyHz.length < 2) return [];
    const power = powerSpectrum(impulse, sampleRateHz);
    // What the order adds at n·f was excited at f.
    const levelDb = frequencyHz.map((f) => 10 * log10(Math.max(power(order * f), Number.MIN_VALUE)));
    const relativeDb = levelDb.map((l, i) => l - 10 * log10(linearPower(frequencyHz[i]!)));
    const noiseDb = noise && noiseUnder(impulse, frequencyHz, linearPower, parameters, noise);
    return [{ order, curve: { frequencyHz, levelDb }, relativeDb, ...(noiseDb && { noiseDb }) }];
  });
}

/** The window lets noise through by the sum of its squared weights. */
function noiseUnder(
  impulse: OrderImpulse,
  frequencyHz: Float64Array,
  linearPower: (frequencyHz: number) => number,
  parameters: SweepParameters,
  noise: RecordedNoise,
): Float64Array {
  const through = edgeWeights(impulse).reduce((sum, w) => sum + w * w, 0);
  return frequencyHz.map((f) => {
    const at = impulse.order * f;
    const density = noiseAround(noise, at / Math.SQRT2, at * Math.SQRT2) * inversePower(parameters, at);
    return 10 * log10(Math.max(through * density, Number.MIN_VALUE) / linearPower(f));
  });
}

/** Mean power around a frequency, of the response between half-Hann edges. */
function powerSpectrum(impulse: OrderImpulse, sampleRateHz: number): (frequencyHz: number) => number {
  const weights = edgeWeights(impulse);
  const faded = impulse.samples.map((v, i) => v * weights[i]!);
  const n = faded.length;
  const size = powerOfTwoAtLeast(2 * n);
  const { bins } = realFft(faded, size);
  const reach = pow2(averagedOctaves / 2);
  return (frequencyHz) => {
    const centre = (frequencyHz / sampleRateHz) * size;
    const from = Math.max(1, Math.floor(centre / reach));
    const to = Math.min(size / 2, Math.ceil(centre * reach));
    let sum = 0;
    for (let k = from; k <= to; k++) sum += bins[2 * k]! ** 2 + bins[2 * k + 1]! ** 2;
    return sum / (to + 1 - from);
  };
}

function edgeWeights({ samples, early }: OrderImpulse): Float64Array {
  const n = samples.length;
  const late = n - early;
  return samples.map((_, i) => {
    const toEdge = i < early ? (i + 0.5) / early : (n - i - 0.5) / late;
    return sin((Math.PI / 2) * Math.min(1, 2 * toEdge)) ** 2;
  });
}
