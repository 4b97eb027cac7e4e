import { exp } from '../../elementary/exponential.js';
import { log10 } from '../../elementary/logarithm.js';
import { sin } from '../../elementary/sine.js';
import { fftPlan, powerOfTwoAtLeast, realFft } from '../samples/fft.js';
import { meanBetween, powerOf } from '../samples/powerDensity.js';
import { sweepLength } from './exponentialSweep.js';
import { inverseSweepParameters, type SweepParameters } from './sweepParameters.js';

/** A short noise in a recording that is none of the sweep's. */
export interface Disturbance {
  /** From the start of the part. */
  readonly atS: number;
  /** Its energy over that of the sweep, in the octave in which that is most. */
  readonly levelDb: number;
  readonly octaveHz: number;
}

const FRAME_S = 0.04;
const LOWEST_HZ = 62.5;
/** A band is listened to before the sweep reaches it, harmonics up to this order included, … */
const HARMONICS = 12;
/** … and again this long after the sweep has left it. */
const DECAY_S = 0.4;
const FEWEST_FRAMES = 8;
/** How far it stands out of the median of the band, and of what came just before, as power. */
const OVER_REST = 100;
const OVER_BEFORE = 10;
/** A knock has more than one octave. */
const FEWEST_BANDS = 2;
const LASTS_S = 0.25;
/** By then an octave of the curve is off by up to 0.4 dB. */
const LEAST_DB = -26;

interface Band {
  readonly centreHz: number;
  /** By frame. */
  readonly power: Float64Array;
  readonly isQuiet: readonly boolean[];
  readonly rest: number;
  /** Of the frames in which the sweep passes. */
  readonly sweepEnergy: number;
}

/**
 * The strongest noise that breaks into the octaves which the sweep does not fill at the time. Deconvolution smears it over
 * the response, where it looks like late sound or like a harmonic.
 *
 * @param start sample at which the sweep begins in the part
 */
export function strongestDisturbance(
  part: Float64Array,
  start: number,
  parameters: SweepParameters,
): Disturbance | undefined {
  const { sampleRateHz } = parameters;
  const size = powerOfTwoAtLeast(FRAME_S * sampleRateHz);
  const hop = size / 2;
  const frames = Math.max(0, Math.floor((part.length - size) / hop) + 1);
  const stepS = hop / sampleRateHz;
  const bands = bandsOf(bandPowers(part, size, frames, parameters), {
    beginsS: (frame) => (frame * hop - start) / sampleRateHz,
    frameS: size / sampleRateHz,
    parameters,
  });
  const rises = (band: Band, i: number): boolean =>
    band.isQuiet[i]! &&
    i >= 2 &&
    band.power[i]! > OVER_REST * band.rest &&
    band.power[i]! > OVER_BEFORE * band.power[i - 2]!;
  let strongest: Disturbance | undefined;
  for (let i = 0; i < frames; i++) {
    const risen = bands.filter((band) => rises(band, i) || rises(band, i - 1));
    if (risen.length < FEWEST_BANDS) continue;
    for (const band of risen) {
      let energy = 0;
      for (let k = i; k < i + LASTS_S / stepS && band.isQuiet[k]; k++) energy += band.power[k]!;
      const levelDb = 10 * log10(energy / band.sweepEnergy);
      if (levelDb >= LEAST_DB && levelDb > (strongest?.levelDb ?? Number.NEGATIVE_INFINITY))
        strongest = { atS: (i * hop + size / 2) / sampleRateHz, levelDb, octaveHz: band.centreHz };
    }
  }
  return strongest;
}

interface BandPower {
  readonly centreHz: number;
  /** By frame. */
  readonly power: Float64Array;
}

/** Octave by octave within the sweep's span, the power in frames that overlap by half. */
function bandPowers(
  part: Float64Array,
  size: number,
  frames: number,
  { fromHz, toHz, sampleRateHz }: SweepParameters,
): BandPower[] {
  const bands: BandPower[] = [];
  for (let centreHz = LOWEST_HZ; centreHz < toHz; centreHz *= 2)
    if (centreHz / Math.SQRT2 >= fromHz) bands.push({ centreHz, power: new Float64Array(frames) });
  const plan = fftPlan(size);
  const weight = Float64Array.from({ length: size }, (_, n) => sin((Math.PI * (n + 0.5)) / size) ** 2);
  for (let i = 0; i < frames; i++) {
    const from = (i * size) / 2;
    const spectrum = powerOf(
      realFft(
        part.slice(from, from + size).map((v, n) => v * weight[n]!),
        size,
        plan,
      ).bins,
    );
    for (const { centreHz, power } of bands)
      power[i] = meanBetween(spectrum, sampleRateHz / size, centreHz / Math.SQRT2, centreHz * Math.SQRT2);
  }
  return bands;
}

interface Frames {
  /** When a frame begins, from the start of the sweep. */
  readonly beginsS: (frame: number) => number;
  readonly frameS: number;
  readonly parameters: SweepParameters;
}

/** With what the sweep leaves of their time; those that it fills all the time are left out. */
function bandsOf(powers: readonly BandPower[], { beginsS, frameS, parameters }: Frames): Band[] {
  const { fromHz, sampleRateHz } = parameters;
  const { timeConstantS: L } = inverseSweepParameters(parameters);
  const lastsS = sweepLength(parameters) / sampleRateHz;
  const reached = (s: number) => fromHz * exp(s / L);
  return powers.flatMap(({ centreHz, power }) => {
    const [low, high] = [centreHz / Math.SQRT2, centreHz * Math.SQRT2];
    let sweepEnergy = 0;
    const isQuiet = Array.from(power, (p, frame) => {
      const fromS = beginsS(frame);
      const toS = Math.min(fromS + frameS, lastsS);
      if (fromS <= lastsS && toS >= 0 && reached(toS) >= low && reached(fromS) <= high) sweepEnergy += p;
      const isAhead = toS < 0 || HARMONICS * reached(toS) < low;
      return isAhead || fromS > lastsS + DECAY_S || reached(fromS - DECAY_S) > high;
    });
    const quiet = power.filter((_, i) => isQuiet[i]).sort();
    const rest = quiet[quiet.length >> 1];
    if (rest === undefined || quiet.length < FEWEST_FRAMES || sweepEnergy === 0) return [];
    return [{ centreHz, power, isQuiet, rest, sweepEnergy }];
  });
}
