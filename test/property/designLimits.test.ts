import { describe, expect, test } from 'vitest';
import { randomScenario } from '../../fixtures/simulate/randomScenario.js';
import { simulate } from '../../fixtures/simulate/simulate.js';
import { design } from '../../src/design.js';
import { seededRandom } from '../../src/fit/seededRandom.js';
import { diagnoseMeasurements } from '../../src/pipeline/diagnoseMeasurements.js';
import { cookbookLevelDb, denseHz } from '../fit/independentCheck.js';
import { measurementOf, requestOf } from '../pipeline/samples.js';

/** What the search may miss by: it is no exhaustive one. */
const SHARE = 1.01;
const ROUNDING_DB = 0.005;

/** Simulated speakers in simulated surroundings, which nothing was tuned on. */
describe.each([
  [501, 'few'],
  [502, 'room'],
  [503, 'few'],
] as const)(
  'more freedom never makes a design worse: simulated speaker %i, %s surfaces',
  (seed, surroundings) => {
    const { curve, setup } = simulate(randomScenario(seededRandom(seed), { surroundings, withPhase: false }));
    const base = requestOf(measurementOf(curve), { setup, bands: 3, maxBoostDb: 3, maxCutDb: 6, maxQ: 4 });
    const diagnosed = diagnoseMeasurements(base, base.sampleRateHz);
    const made = (options: Partial<typeof base>) => design({ ...base, ...options }, { diagnosed });
    const narrow = made({});

    test.each([
      ['more bands', { bands: 6 }],
      ['more boost', { maxBoostDb: 6 }],
      ['more cut', { maxCutDb: 15 }],
      ['a higher Q', { maxQ: 10 }],
      ['all of it', { bands: 6, maxBoostDb: 6, maxCutDb: 15, maxQ: 10 }],
    ])('%s', (_, wider) => {
      const { error, filters, inputGainDb, sampleRateHz, findings } = made(wider);
      expect(error.afterRmsDb).toBeLessThanOrEqual(narrow.error.afterRmsDb * SHARE + ROUNDING_DB);
      expect(error.afterRmsDb).toBeLessThanOrEqual(error.beforeRmsDb);
      const greatest = Math.max(
        ...denseHz(sampleRateHz).map((hz) => cookbookLevelDb(filters, sampleRateHz, hz)),
      );
      expect(greatest + inputGainDb).toBeLessThanOrEqual(1e-6);
      expect(inputGainDb).toBeLessThanOrEqual(0);
      for (const { kind, verdict, frequencyHz } of findings) {
        if (kind !== 'dip' || verdict !== 'move') continue;
        expect(cookbookLevelDb(filters, sampleRateHz, frequencyHz)).toBeLessThanOrEqual(0.502);
      }
    });
  },
);
