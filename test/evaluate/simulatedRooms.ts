import { moveMicrophone, moveSpeaker } from '../../fixtures/simulate/place.js';
import { type RandomScenarioOptions, randomScenario } from '../../fixtures/simulate/randomScenario.js';
import type { Scenario } from '../../fixtures/simulate/scenario.js';
import { seededRandom, uniform } from '../../fixtures/simulate/seededRandom.js';
import { type Simulation, simulate, simulateCurve } from '../../fixtures/simulate/simulate.js';
import { averagePositions } from '../../src/curve/averagePositions.js';
import type { Curve } from '../../src/curve/curve.js';
import { logGrid } from '../../src/curve/logGrid.js';
import { resampleToGrid } from '../../src/curve/resampleToGrid.js';
import { workingRange } from '../../src/curve/workingRange.js';
import { excessGroupDelayS } from '../../src/impulse/phase/excessPhaseOfCurve.js';
import type { EvaluationCase } from './evaluationCase.js';

/** One case of the project's simulator, as the pipeline would hand it to the diagnosis. */
export function simulatedRoom(seed: number, options: RandomScenarioOptions): EvaluationCase {
  const scenario = randomScenario(seededRandom(seed), { withPhase: false, ...options });
  return caseOf(seed, scenario, simulate(scenario));
}

/** The same with phase, another placement of the speaker and three more microphone positions. */
export function fullyMeasuredRoom(seed: number, options: RandomScenarioOptions): EvaluationCase {
  const random = seededRandom(seed);
  const scenario = randomScenario(random, { ...options, withPhase: true });
  const shift = () => uniform(random, 0.08, 0.35) * (random() < 0.2 ? -0.3 : 1);
  const moved = moveSpeaker(scenario, [shift(), 0.6 * shift(), 0], seed + 1, 'comes along');
  const positions = [1, 2, 3].map((k) =>
    moveMicrophone(
      scenario,
      [uniform(random, -0.1, 0.1), uniform(random, -0.1, 0.1), uniform(random, -0.05, 0.05)],
      seed + 1 + k,
    ),
  );
  const first = simulate(scenario);
  const sample = caseOf(seed, scenario, first);
  const onGrid = gridded(first.curve);
  const { spreadDb } = averagePositions([onGrid, ...positions.map((p) => gridded(simulateCurve(p)))]);
  return {
    ...sample,
    input: {
      ...sample.input,
      spreadDb,
      moved: [gridded(simulateCurve(moved))],
      excessGroupDelayS: excessGroupDelayS(onGrid),
    },
  };
}

/** The average of two to nine positions in a room as above, and what direct and reflected sound are on average over them. */
export function severalPositions(seed: number, options: RandomScenarioOptions): EvaluationCase {
  const random = seededRandom(seed * 7001 + 13);
  const scenario = randomScenario(seededRandom(seed), { ...options, withPhase: false });
  const count = 2 + Math.floor(8 * random());
  const places = Array.from({ length: count }, (_, k) =>
    k === 0
      ? scenario
      : moveMicrophone(
          scenario,
          [uniform(random, -0.15, 0.15), uniform(random, -0.2, 0.2), uniform(random, -0.08, 0.08)],
          seed + k,
        ),
  ).map((place) => caseOf(seed, place, simulate(place)));
  const first = places[0]!;
  const { frequencyHz } = first.input.curve;
  const { curve, spreadDb } = averagePositions(places.map(({ input }) => input.curve));
  const ownDb = averagePositions(places.map((each) => ({ frequencyHz, levelDb: each.ownDb }))).curve.levelDb;
  return {
    ...first,
    input: { ...first.input, curve, range: workingRange(curve).range, spreadDb },
    ownDb,
    interferenceDb: curve.levelDb.map((level, i) => level - ownDb[i]!),
  };
}

export function caseOf(
  seed: number,
  scenario: Scenario,
  { curve, setup, truth }: Simulation,
): EvaluationCase {
  const { frequencyHz, levelDb } = gridded(curve);
  const onGrid = (db: Float64Array) =>
    resampleToGrid({ frequencyHz: curve.frequencyHz, levelDb: db }, frequencyHz).levelDb;
  return {
    id: `${scenario.name} ${seed}`,
    input: { curve: { frequencyHz, levelDb }, range: workingRange(curve).range, setup },
    cancellations: truth.cancellations.map((c) => ({
      frequencyHz: c.frequencyHz,
      depthDb: -c.levelDb,
      fromHz: c.fromHz,
      toHz: c.toHz,
      surfaces: c.surfaces.map((s) => s.name),
    })),
    resonances: truth.resonances,
    interferenceDb: onGrid(truth.placementDb),
    ownDb: onGrid(truth.freeFieldDb),
    distancesM: new Map(
      scenario.planes.map((p) => [p.name, Math.abs(scenario.baffle[p.axis] - p.atM)] as const),
    ),
  };
}

export function gridded(curve: Curve): Curve {
  const grid = logGrid(curve.frequencyHz[0]!, curve.frequencyHz[curve.frequencyHz.length - 1]!);
  return resampleToGrid(curve, grid);
}
