import { logGrid } from '../../src/curve/logGrid.js';
import { dbOfPower, powerOfDb } from '../../src/curve/powerIntegral.js';
import { bankMaximum } from '../../src/filter/bankMaximum.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { Filter } from '../../src/filter/filter.js';
import { inputGainDb } from '../../src/filter/inputGainDb.js';

/** The gains that let both sides be heard at the same loudness, none above 0 dB. */
export interface ListeningLevels {
  /** Ahead of the filters, so that they never raise anything above full scale; the same on both sides. */
  readonly inputGainDb: number;
  /** What the filters change the loudness of pink noise by. */
  readonly loudnessDb: number;
  /** Gain of the side without filters: input gain and loudness together. */
  readonly beforeDb: number;
}

const FROM_HZ = 20;
const TO_HZ = 20_000;
/** Enough for bands as narrow as Q 50: 1/96 octave. */
const PER_OCTAVE = 96;

/**
 * Matches loudness by the power of pink noise, which every octave carries the same share of: the mean of |H|² over
 * ln f from 20 Hz to 20 kHz, or to half the sample rate.
 */
export function listeningLevels(filters: readonly Filter[], sampleRateHz: number): ListeningLevels {
  const frequencyHz = logGrid(FROM_HZ, Math.min(TO_HZ, sampleRateHz / 2), PER_OCTAVE);
  const levelDb = bankResponseDb(filters, sampleRateHz, frequencyHz);
  const power = levelDb.reduce((sum, db) => sum + powerOfDb(db), 0) / levelDb.length;
  const inputDb = inputGainDb(filters, sampleRateHz);
  const loudnessDb = dbOfPower(power);
  return { inputGainDb: inputDb, loudnessDb, beforeDb: Math.min(0, inputDb + loudnessDb) };
}

/** The most that filters raise below `belowHz`, where it costs the driver excursion; undefined where it is too little to tell. */
export function lowBoost(
  filters: readonly Filter[],
  sampleRateHz: number,
  belowHz = 150,
): { readonly gainDb: number; readonly atHz: number } | undefined {
  const { maxDb, atHz } = bankMaximum(filters, sampleRateHz, 10, belowHz);
  return maxDb >= 1 ? { gainDb: maxDb, atHz } : undefined;
}

/** How far the same filters at two sample rates lie apart at most, in dB, from 20 Hz to 16 kHz as far as both reach. */
export function rateDifferenceDb(filters: readonly Filter[], aHz: number, bHz: number): number {
  const frequencyHz = logGrid(FROM_HZ, Math.min(16_000, aHz / 2, bHz / 2), 24);
  const a = bankResponseDb(filters, aHz, frequencyHz);
  const b = bankResponseDb(filters, bHz, frequencyHz);
  return a.reduce((most, db, i) => Math.max(most, Math.abs(db - b[i]!)), 0);
}
