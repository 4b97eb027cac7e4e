import type { Curve } from '../../curve/curve.js';
import { atan2 } from '../../elementary/arctangent.js';
import { log10 } from '../../elementary/logarithm.js';
import { hypot } from '../../elementary/power.js';
import { cos, sin } from '../../elementary/sine.js';
import type { ImpulseResponse } from '../samples/impulseResponse.js';

export interface FrequencyDependentWindowOptions {
  readonly arrivalS: number;
  /** Length of the window at each frequency, in its periods. */
  readonly cycles: number;
  /** Ascending; where the phase is to be used, at least 4·cycles points an octave. */
  readonly frequencyHz: Float64Array;
}

/** What comes before the direct sound is let in no further than this. */
const longestBeforeS = 0.01;

/**
 * Frequency response through a window that is `cycles` periods long at every frequency, so that the bass keeps the
 * room that it is heard with while late treble is left out. The window falls from 1 at the arrival to 0 as half a
 * Hann window, before it in the same way over at most 10 ms. It resolves f/`cycles` at f.
 *
 * @returns level and phase, the phase from the arrival
 */
export function frequencyDependentWindow(
  { samples, sampleRateHz }: ImpulseResponse,
  { arrivalS, cycles, frequencyHz }: FrequencyDependentWindowOptions,
): Curve {
  if (!(cycles > 0)) throw new RangeError(`cycles must be positive; received ${cycles}`);
  const arrival = arrivalS * sampleRateHz;
  const levelDb = new Float64Array(frequencyHz.length);
  const phaseRad = new Float64Array(frequencyHz.length);
  let last = 0;
  frequencyHz.forEach((f, i) => {
    const after = (cycles / f) * sampleRateHz;
    const before = Math.min(after, longestBeforeS * sampleRateHz);
    const from = Math.max(0, Math.ceil(arrival - before));
    const to = Math.min(samples.length - 1, Math.floor(arrival + after));
    const omega = (2 * Math.PI * f) / sampleRateHz;
    // The phasor e^(−iω(n − arrival)) turned on sample by sample.
    const [stepRe, stepIm] = [cos(omega), -sin(omega)];
    let re = cos(omega * (from - arrival));
    let im = -sin(omega * (from - arrival));
    let sumRe = 0;
    let sumIm = 0;
    for (let n = from; n <= to; n++) {
      const offset = n - arrival;
      const weight = cos((Math.PI / 2) * (offset < 0 ? offset / before : offset / after)) ** 2;
      const value = weight * samples[n]!;
      sumRe += value * re;
      sumIm += value * im;
      const turned = re * stepRe - im * stepIm;
      im = re * stepIm + im * stepRe;
      re = turned;
    }
    levelDb[i] = 20 * log10(Math.max(hypot(sumRe, sumIm), Number.MIN_VALUE));
    const phase = atan2(sumIm, sumRe);
    last = i === 0 ? phase : phase - 2 * Math.PI * Math.round((phase - last) / (2 * Math.PI));
    phaseRad[i] = last;
  });
  return { frequencyHz, levelDb, phaseRad };
}
