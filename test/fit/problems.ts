import fc from 'fast-check';
import { seededRandom } from '../../fixtures/simulate/seededRandom.js';
import { logGrid } from '../../src/curve/logGrid.js';
import type { Filter } from '../../src/filter/filter.js';
import { type Bands, bandsFromFilters } from '../../src/fit/bank/bands.js';
import { createObjective, type Objective, type ObjectiveOptions } from '../../src/fit/objective/objective.js';
import { buildProblem } from '../../src/fit/problem/buildProblem.js';
import { fitGrid } from '../../src/fit/problem/fitGrid.js';
import type { FitLimits, FitProblem } from '../../src/fit/problem/fitProblem.js';
import { logarithmic, uniform } from '../filter/filterArbitrary.js';

export const LIMITS: FitLimits = {
  maxBands: 6,
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

export interface ProblemOptions {
  readonly deviationDb: (frequencyHz: Float64Array) => Float64Array;
  readonly fromHz?: number;
  readonly toHz?: number;
  readonly sampleRateHz?: number;
  readonly zones?: Parameters<typeof buildProblem>[0]['zones'];
  readonly boostFromHz?: number | undefined;
  /** Free where it is absent. */
  readonly levelDb?: number | undefined;
  readonly limits?: Partial<FitLimits>;
}

/** So many waves over the octaves by chance, in dB, which no number of bands makes flat. */
export function wavesDb(seed: number, count: number): (frequencyHz: Float64Array) => Float64Array {
  const random = seededRandom(seed);
  const between = (low: number, high: number) => low + (high - low) * random();
  const waves = Array.from({ length: count }, () => ({
    db: between(0.4, 1.6),
    perOctave: between(0.3, 1.7),
    phase: between(0, 2 * Math.PI),
  }));
  const level = (hz: number) =>
    waves.reduce(
      (sum, { db, perOctave, phase }) =>
        sum + db * Math.sin(2 * Math.PI * perOctave * Math.log2(hz / 1000) + phase),
      0,
    );
  return (frequencyHz) => frequencyHz.map(level);
}

/** A problem on the pipeline's grid, within `LIMITS` but for those given. */
export function problemOf(options: ProblemOptions): FitProblem {
  const { boostFromHz, levelDb } = options;
  const frequencyHz = logGrid(options.fromHz ?? 20, options.toHz ?? 20000);
  return buildProblem({
    sampleRateHz: options.sampleRateHz ?? 48000,
    frequencyHz,
    deviationDb: options.deviationDb(frequencyHz),
    zones: options.zones ?? [],
    ...(boostFromHz !== undefined && { boostFromHz }),
    ...(levelDb !== undefined && { levelDb }),
    limits: { ...LIMITS, ...options.limits },
  });
}

/** A deviation that wanders over log frequency by some dB: three waves and a tilt. */
export const wander = fc
  .record({
    waves: fc.array(
      fc.record({ db: uniform(-4, 4), perOctave: uniform(0.1, 1.2), phase: uniform(0, 2 * Math.PI) }),
      { minLength: 3, maxLength: 3 },
    ),
    tilt: uniform(-1, 1),
  })
  .map(
    ({ waves, tilt }) =>
      (frequencyHz: Float64Array): Float64Array =>
        frequencyHz.map((hz) => {
          const octaves = Math.log2(hz / 1000);
          return waves.reduce(
            (sum, { db, perOctave, phase }) => sum + db * Math.sin(2 * Math.PI * perOctave * octaves + phase),
            tilt * octaves,
          );
        }),
  );

/** A band such as the search may hold, well inside the audio band. */
const soundFilter: fc.Arbitrary<Filter> = fc.record({
  type: fc.constantFrom('peaking', 'lowShelf', 'highShelf'),
  frequencyHz: logarithmic(30, 15000),
  gainDb: uniform(-11, 9),
  q: logarithmic(0.45, 8),
});

export const bank = (minLength: number, maxLength: number): fc.Arbitrary<Bands> =>
  fc.array(soundFilter, { minLength, maxLength }).map(bandsFromFilters);

/** Two zones, apart from each other, the lower one sometimes beyond the lower end of a range that begins at 60 Hz. */
const twoZones = fc
  .tuple(logarithmic(40, 300), uniform(0.05, 1), logarithmic(900, 6000), uniform(0.05, 1))
  .map(([low, lowWidth, high, highWidth]) => [
    { fromHz: low, toHz: low * 2 ** lowWidth },
    { fromHz: high, toHz: high * 2 ** highWidth },
  ]);

/** Problem, bank and penalties such that most limits are broken somewhere. */
export const pressedProblem = fc
  .record({
    deviationDb: wander,
    zones: twoZones,
    boostFromHz: fc.option(logarithmic(30, 200), { nil: undefined }),
    levelDb: fc.option(uniform(-6, 6), { nil: undefined }),
    maxBoostDb: uniform(0, 4),
    maxLevelLossDb: uniform(0, 2),
    bands: bank(1, 5),
    penalty: logarithmic(1, 3000),
    restraint: fc.constantFrom(0, 1e-5, 0.1),
    levelRestraint: fc.constantFrom(0, 5e-4, 0.3),
  })
  .map(({ bands, penalty, restraint, levelRestraint, maxBoostDb, maxLevelLossDb, ...rest }) => {
    const problem = problemOf({ ...rest, fromHz: 60, limits: { maxBoostDb, maxLevelLossDb } });
    return { problem, bands, options: { penalty, restraint, levelRestraint } };
  });

export const pressedObjective: fc.Arbitrary<{ objective: Objective; bands: Bands }> = pressedProblem.map(
  ({ problem, bands, options }) => ({ bands, objective: objectiveFor(problem, 5, options) }),
);

export function objectiveFor(
  problem: FitProblem,
  maxBands: number,
  options: Partial<ObjectiveOptions> = {},
): Objective {
  return createObjective(fitGrid(problem, 2), maxBands, {
    penalty: 15,
    restraint: 1e-5,
    levelRestraint: 5e-4,
    maxLevelLossDb: problem.limits.maxLevelLossDb,
    ...(problem.levelDb !== undefined && { levelDb: problem.levelDb }),
    ...options,
  });
}
