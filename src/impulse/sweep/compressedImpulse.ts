import { exp, pow2 } from '../../elementary/exponential.js';
import { log } from '../../elementary/logarithm.js';
import { pow10 } from '../../elementary/power.js';
import { cos, sin } from '../../elementary/sine.js';
import { minimumPhase } from '../phase/minimumPhase.js';
import { inverseRealFft, powerOfTwoAtLeast, realFft } from '../samples/fft.js';
import type { ImpulseResponse } from '../samples/impulseResponse.js';
import { indexOfGreatest } from '../samples/indexOfGreatest.js';
import { slidingMean } from '../samples/slidingMean.js';

/** A complex signal, one pair of numbers a sample. */
export interface ComplexSignal {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/**
 * An impulse response with the speaker's own response taken out of it as far as a smooth minimum-phase inverse can:
 * every arrival becomes one short pulse. Analytic, so that the envelope is its absolute value.
 */
export interface CompressedImpulse {
  readonly signal: ComplexSignal;
  /** The pulse that a single arrival at sample 0 becomes; negative times at the end. Its greatest value is 1. */
  readonly pulse: ComplexSignal;
  /** Where sample 0 of `signal` lies in the impulse response. */
  readonly firstSample: number;
  readonly sampleRateHz: number;
}

const beforePeakS = 0.05;
const afterPeakS = 0.2;
/** Wide enough to leave the ripple that reflections make, narrow enough to follow a speaker. */
const smoothingOctaves = 1;
/** Where the spectrum lies this far below its top, the inverse gives up: there is more noise than speaker. */
const giveUpDb = -30;
/** The upper end of the band is faded out over this share of it, for a pulse without side lobes. */
const fadedShare = 0.5;

/**
 * Compresses an impulse response around its greatest sample: divides by the minimum-phase response of its own
 * magnitude smoothed to an octave.
 */
export function compressImpulse({ samples, sampleRateHz }: ImpulseResponse): CompressedImpulse {
  const peak = indexOfGreatest(samples);
  const firstSample = Math.max(0, Math.round(peak - beforePeakS * sampleRateHz));
  const segment = samples.slice(firstSample, Math.round(peak + afterPeakS * sampleRateHz) + 1);
  const size = powerOfTwoAtLeast(2 * segment.length);
  const { bins } = realFft(segment, size);
  const bin = (k: number): number => bins[2 * k]! ** 2 + bins[2 * k + 1]! ** 2;
  const power = Float64Array.from({ length: size / 2 + 1 }, (_, k) => bin(k));
  const reach = pow2(smoothingOctaves / 2);
  const smooth = slidingMean(
    power,
    (k) => k / reach,
    (k) => k * reach,
  );
  const top = smooth.reduce((most, p) => Math.max(most, p), 0);
  const floor = top * pow10(giveUpDb / 10);
  const logMagnitude = smooth.map((p) => 0.5 * log(p + floor));
  const { phaseRad } = minimumPhase(logMagnitude);
  const fade = bandFade(smooth, floor);
  const pulseBins = new Float64Array(size + 2);
  let height = 0;
  for (let k = 0; k <= size / 2; k++) {
    const gain = fade[k]! * exp(-logMagnitude[k]!);
    const c = gain * cos(phaseRad[k]!);
    const s = -gain * sin(phaseRad[k]!);
    const re = bins[2 * k]!;
    const im = bins[2 * k + 1]!;
    bins[2 * k] = re * c - im * s;
    bins[2 * k + 1] = re * s + im * c;
    // What is left of a single arrival: its level against the smoothed one with the floor added.
    pulseBins[2 * k] = fade[k]! * Math.sqrt(smooth[k]! / (smooth[k]! + floor));
    height += pulseBins[2 * k]!;
  }
  // Height of the pulse at its centre: the sum over both halves of its spectrum, over the size.
  const scale = size / 2 / height;
  return {
    signal: analyticSignal(bins, scale, segment.length),
    pulse: analyticSignal(pulseBins, scale, size),
    firstSample,
    sampleRateHz,
  };
}

/** From 1 down to 0 over the upper part of the band in which there is a signal, as the square of a cosine. */
function bandFade(smooth: Float64Array, floor: number): Float64Array {
  let last = smooth.length - 1;
  while (last > 0 && smooth[last]! < floor) last--;
  const from = (1 - fadedShare) * last;
  return smooth.map((_, k) => {
    if (k === 0 || k > last) return 0;
    return k <= from ? 1 : cos((Math.PI / 2) * ((k - from) / (last - from))) ** 2;
  });
}

/** Signal and Hilbert transform from the lower half of a spectrum, the first `count` samples, times `scale`. */
export function analyticSignal(bins: Float64Array, scale: number, count: number): ComplexSignal {
  const size = bins.length - 2;
  const turned = new Float64Array(size + 2);
  for (let k = 1; k < size / 2; k++) {
    // −i times the positive frequencies.
    turned[2 * k] = bins[2 * k + 1]!;
    turned[2 * k + 1] = -bins[2 * k]!;
  }
  const re = inverseRealFft({ size, bins: bins.slice() }).subarray(0, count);
  const im = inverseRealFft({ size, bins: turned }).subarray(0, count);
  return { re: re.map((v) => scale * v), im: im.map((v) => scale * v) };
}
