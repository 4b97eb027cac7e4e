import { logGrid } from '../../src/curve/logGrid.js';
import { bankMaximum } from '../../src/filter/bankMaximum.js';
import { bankMean } from '../../src/filter/bankMean.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { Filter } from '../../src/filter/filter.js';
import { fitFilters, NORMAL_EFFORT } from '../../src/fit/fitFilters.js';
import { buildProblem } from '../../src/fit/problem/buildProblem.js';
import type { FitResult } from '../../src/fit/problem/fitProblem.js';
import { seededRandom } from '../../src/fit/seededRandom.js';

const SAMPLE_RATE_HZ = 48000;
const RANGE = { fromHz: 20, toHz: 20000 };

/** The curve that the bank would make flat, with whole numbers of dB of room beyond what the bank itself needs. */
export function fitRecovery(bank: readonly Filter[], seed = 1): FitResult {
  const frequencyHz = logGrid(RANGE.fromHz, RANGE.toHz);
  const needsDb = Math.max(bankMaximum(bank, SAMPLE_RATE_HZ).maxDb, ...bank.map(({ gainDb }) => gainDb));
  const losesDb = -bankMean(bank, SAMPLE_RATE_HZ, RANGE.fromHz, RANGE.toHz);
  const problem = buildProblem({
    sampleRateHz: SAMPLE_RATE_HZ,
    frequencyHz,
    deviationDb: bankResponseDb(bank, SAMPLE_RATE_HZ, frequencyHz).map((db) => -db),
    zones: [],
    limits: {
      maxBands: bank.length,
      types: ['peaking', 'lowShelf', 'highShelf'],
      maxBoostDb: Math.max(6, Math.ceil(needsDb) + 1),
      maxCutDb: 12,
      minQ: 0.4,
      maxQ: 10,
      maxShelfQ: 10,
      minFrequencyHz: RANGE.fromHz,
      maxFrequencyHz: RANGE.toHz,
      maxLevelLossDb: Math.max(3, Math.ceil(losesDb) + 1),
    },
  });
  return fitFilters(problem, { random: seededRandom(seed), effort: NORMAL_EFFORT });
}
