import { seededRandom } from '../../fixtures/simulate/seededRandom.js';
import type { FrequencyRange } from '../../src/curve/curve.js';
import { logGrid } from '../../src/curve/logGrid.js';
import { sliceCurve } from '../../src/curve/sliceCurve.js';
import { smoothOctave } from '../../src/curve/smoothOctave.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { Filter } from '../../src/filter/filter.js';
import { buildProblem } from '../../src/fit/problem/buildProblem.js';
import type { FitLimits, FitProblem } from '../../src/fit/problem/fitProblem.js';
import { simulatedRoom } from './simulatedRooms.js';

const SAMPLE_RATE_HZ = 48000;
const BANDS = [3, 5, 7, 10, 15, 20] as const;

export interface OptimumCase {
  readonly id: string;
  readonly bands: number;
  readonly problem: FitProblem;
}

const LIMITS: Omit<FitLimits, 'maxBands'> = {
  types: ['peaking', 'lowShelf', 'highShelf'],
  maxBoostDb: 6,
  maxCutDb: 12,
  minQ: 0.4,
  maxQ: 10,
  maxShelfQ: 10,
  minFrequencyHz: 20,
  maxFrequencyHz: 20000,
  maxLevelLossDb: 3,
};

/** Shelves of slope 1: the steepest that do not overshoot. */
export const GENTLE_SHELF_Q = 0.71;

/** The same cases where shelves may be gentle ones only. */
export function gentleCases(firstSeed = 0): OptimumCase[] {
  return optimumCases(firstSeed).map(({ id, bands, problem }) => ({
    id: `${id}, gentle shelves`,
    bands,
    problem: { ...problem, limits: { ...problem.limits, maxShelfQ: GENTLE_SHELF_Q } },
  }));
}

/** Cases for each number of bands: banks to find again, banks too large to, speakers in rooms, and rough curves. */
export function optimumCases(firstSeed = 0): OptimumCase[] {
  return BANDS.flatMap((bands) => {
    const seed = firstSeed + 100 * bands;
    const cases: [string, FitProblem][] = [
      ['recovery', bankProblem(bands, bands, seed + 1)],
      ['crowded', bankProblem(bands, Math.ceil(1.6 * bands), seed + 2)],
      ['room', roomProblem(bands, 'room', seed + 3)],
      ['room', roomProblem(bands, 'room', seed + 4)],
      ['speaker', roomProblem(bands, 'few', seed + 5)],
      ['speaker', roomProblem(bands, 'few', seed + 6)],
      ['waves', wavesProblem(bands, seed + 7)],
      ['noise', noiseProblem(bands, seed + 8)],
    ];
    return cases.map(([kind, problem], i) => ({ id: `${kind} ${bands}/${seed + i + 1}`, bands, problem }));
  });
}

/** A curve that `filters` random bands would make flat, with room for what they need. */
function bankProblem(maxBands: number, filters: number, seed: number): FitProblem {
  const bank = randomBank(filters, seed);
  const limits = { maxBoostDb: 18, maxCutDb: 18, maxLevelLossDb: 12 };
  return problem(maxBands, (hz) => bankResponseDb(bank, SAMPLE_RATE_HZ, hz).map((db) => -db), limits);
}

/** One band in each of `count` equal parts of 40 Hz to 16 kHz: ±2 to 8 dB, Q 0.6 to 6. */
function randomBank(count: number, seed: number): Filter[] {
  const random = seededRandom(seed);
  const octaves = Math.log2(16000 / 40) / count;
  return Array.from({ length: count }, (_, i) => ({
    type: 'peaking',
    frequencyHz: 40 * 2 ** (octaves * (i + 0.1 + 0.8 * random())),
    gainDb: (random() < 0.5 ? -1 : 1) * (2 + 6 * random()),
    q: 0.6 * 10 ** random(),
  }));
}

/** A simulated speaker among surfaces, smoothed; the spans of its true deep cancellations are left alone. */
function roomProblem(maxBands: number, surroundings: 'room' | 'few', seed: number): FitProblem {
  const { input, cancellations } = simulatedRoom(seed, { withPhase: false, surroundings });
  const range = { fromHz: Math.max(40, input.range.fromHz), toHz: Math.min(16000, input.range.toHz) };
  const { frequencyHz, levelDb } = sliceCurve(smoothOctave(input.curve, 1 / 12), range);
  const zones = cancellations
    .filter(({ depthDb }) => depthDb > 5)
    .map(({ fromHz, toHz }) => ({ fromHz, toHz }));
  return buildProblem({
    sampleRateHz: SAMPLE_RATE_HZ,
    frequencyHz,
    deviationDb: levelDb,
    zones: apart(zones),
    boostFromHz: range.fromHz,
    limits: { ...LIMITS, maxBands, minFrequencyHz: range.fromHz },
  });
}

function apart(zones: readonly FrequencyRange[]): FrequencyRange[] {
  const merged: FrequencyRange[] = [];
  for (const zone of [...zones].sort((a, b) => a.fromHz - b.fromHz)) {
    const last = merged.at(-1);
    if (last && zone.fromHz <= last.toHz) {
      merged[merged.length - 1] = { fromHz: last.fromHz, toHz: Math.max(last.toHz, zone.toHz) };
    } else merged.push(zone);
  }
  return merged;
}

/** Eight waves of one to three octaves over a tilt. */
function wavesProblem(maxBands: number, seed: number): FitProblem {
  const random = seededRandom(seed);
  const waves = Array.from({ length: 8 }, () => ({
    db: 0.6 + 1.4 * random(),
    perOctave: 0.3 + 1.2 * random(),
    phase: 2 * Math.PI * random(),
  }));
  return problem(maxBands, (frequencyHz) =>
    frequencyHz.map((hz) => {
      const octaves = Math.log2(hz / 1000);
      return waves.reduce(
        (sum, { db, perOctave, phase }) => sum + db * Math.sin(2 * Math.PI * perOctave * octaves + phase),
        -0.3 * octaves,
      );
    }),
  );
}

/** A random walk in level over log frequency, smoothed by a twelfth of an octave. */
function noiseProblem(maxBands: number, seed: number): FitProblem {
  const random = seededRandom(seed);
  return problem(maxBands, (frequencyHz) => {
    let level = 0;
    const levelDb = frequencyHz.map(() => {
      level = 0.97 * level + 2.2 * (random() + random() - 1);
      return level;
    });
    return smoothOctave({ frequencyHz, levelDb }, 1 / 12).levelDb;
  });
}

function problem(
  maxBands: number,
  deviation: (frequencyHz: Float64Array) => Float64Array,
  limits: Partial<FitLimits> = {},
): FitProblem {
  const frequencyHz = logGrid(20, 20000);
  return buildProblem({
    sampleRateHz: SAMPLE_RATE_HZ,
    frequencyHz,
    deviationDb: deviation(frequencyHz),
    zones: [],
    limits: { ...LIMITS, ...limits, maxBands },
  });
}
