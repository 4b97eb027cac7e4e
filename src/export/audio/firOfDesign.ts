import { logGrid } from '../../curve/logGrid.js';
import { bankResponseDb } from '../../filter/bankResponseDb.js';
import { inputGainDb } from '../../filter/inputGainDb.js';
import { type FirFilter, linearPhaseFir, minimumPhaseFir } from '../../impulse/fir.js';
import type { Correction } from '../../schema/correction.js';

export type FirPhase = 'minimum' | 'linear';

/** So dense that straight lines between the points stay within 0.001 dB of any filter that a fit may use. */
const POINTS_PER_OCTAVE = 384;
const LOWEST_HZ = 1;

/** A finite filter that does what the design's input gain and filters do, at any sample rate. */
export function firOfDesign(
  design: Correction,
  phase: FirPhase,
  sampleRateHz: number,
  taps: number,
): FirFilter {
  const { filters } = design;
  const gainDb =
    sampleRateHz === design.sampleRateHz ? design.inputGainDb : inputGainDb(filters, sampleRateHz);
  const frequencyHz = logGrid(LOWEST_HZ, 0.4999 * sampleRateHz, POINTS_PER_OCTAVE);
  const levelDb = bankResponseDb(filters, sampleRateHz, frequencyHz).map((db) => db + gainDb);
  const make = phase === 'linear' ? linearPhaseFir : minimumPhaseFir;
  return make({ frequencyHz, levelDb }, sampleRateHz, taps);
}
