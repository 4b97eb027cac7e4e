import { atan } from '../elementary/arctangent.js';
import { exp, sinh } from '../elementary/exponential.js';
import { log } from '../elementary/logarithm.js';
import { pow, pow10 } from '../elementary/power.js';
import { tan } from '../elementary/sine.js';
import { assertFilters } from './assertFilters.js';
import { limitGainDb } from './closedForm.js';
import type { Filter } from './filter.js';
import type { Resonance } from './resonance.js';

/**
 * Frequencies in Hz, ascending, both ends of the range among them, dense enough that a bank's response is smooth
 * between any two neighbours.
 *
 * On the axis ln t with t = tan(ω/2) each filter's level is as smooth as its nearest pole or zero is far. So every
 * pair of poles and zeros (peaking: both at t0, of Q = A·Q and Q/A; shelves: at t0·A^(±1/2), of the filter's own Q)
 * gets points whose spacing is at most a quarter of that distance, growing outward until the even spacing of the
 * whole axis (24 an octave) is the finer. The axis reaches two decades past the outermost pole or zero: beyond that
 * the level moves by less than 1e-6 dB and only one way.
 *
 * @param others further pairs to be met, such as those of rounded coefficients
 * @throws RangeError where a filter's numbers are none
 */
export function featureFrequencies(
  filters: readonly Filter[],
  sampleRateHz: number,
  fromHz: number,
  toHz: number,
  others: readonly Pick<Resonance, 't' | 'q'>[] = [],
): Float64Array {
  assertFilters(filters);
  const points: number[] = [];
  let lowest = Number.POSITIVE_INFINITY;
  let highest = 0;
  for (const filter of filters) {
    if (limitGainDb(filter, sampleRateHz) !== undefined) continue;
    const t0 = tan((Math.PI * filter.frequencyHz) / sampleRateHz);
    const A = pow10(filter.gainDb / 40);
    for (const sign of [1, -1]) {
      const shift = pow(A, sign / 2);
      const t = filter.type === 'peaking' ? t0 : t0 * shift;
      const q = filter.type === 'peaking' ? filter.q * shift * shift : filter.q;
      // Below Q = 1/2 the pair has split along the real axis to about t·q and t/q.
      lowest = Math.min(lowest, t * Math.min(q, 1));
      highest = Math.max(highest, t * Math.max(1 / q, 1));
      addAround(points, t, q);
    }
  }
  for (const { t, q } of others) {
    lowest = Math.min(lowest, t);
    highest = Math.max(highest, t);
    addAround(points, t, q);
  }
  if (highest === 0) return Float64Array.of(fromHz, toHz);
  const from = log(lowest) - MARGIN;
  const steps = Math.ceil((log(highest) + MARGIN - from) / EVEN_STEP);
  for (let i = 0; i <= steps; i += 1) points.push(exp(from + i * EVEN_STEP));
  const frequencyHz = points.map((t) => (atan(t) * sampleRateHz) / Math.PI);
  const inside = frequencyHz.filter((f) => f > fromHz && f < toHz);
  return Float64Array.of(fromHz, ...inside, toHz).sort();
}

function addAround(points: number[], t: number, q: number): void {
  const halfWidth = 1 / (2 * q);
  points.push(t);
  // Offsets w·sinh(j/4): spacing w/4 at the middle, a quarter of the distance farther out.
  for (let j = 1; ; j += 1) {
    const offset = halfWidth * sinh(j * RELATIVE_STEP);
    points.push(t * exp(offset), t * exp(-offset));
    if (offset * RELATIVE_STEP > EVEN_STEP || halfWidth * RELATIVE_STEP > EVEN_STEP) return;
  }
}

const RELATIVE_STEP = 0.25;
const EVEN_STEP = Math.LN2 / 24;
const MARGIN = log(100);
