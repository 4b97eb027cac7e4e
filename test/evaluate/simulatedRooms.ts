import { type RandomScenarioOptions, randomScenario } from '../../fixtures/simulate/randomScenario.js';
import { seededRandom } from '../../fixtures/simulate/seededRandom.js';
import { simulate } from '../../fixtures/simulate/simulate.js';
import type { Curve } from '../../src/curve/curve.js';
import { logGrid } from '../../src/curve/logGrid.js';
import { resampleToGrid } from '../../src/curve/resampleToGrid.js';
import { workingRange } from '../../src/curve/workingRange.js';
import type { EvaluationCase } from './evaluationCase.js';

/** One case of the project's simulator, as the pipeline would hand it to the diagnosis. */
export function simulatedRoom(seed: number, options: RandomScenarioOptions): EvaluationCase {
  const scenario = randomScenario(seededRandom(seed), { withPhase: false, ...options });
  const { curve, setup, truth } = simulate(scenario);
  const onGrid = gridded(curve);
  const placement = resampleToGrid(
    { frequencyHz: curve.frequencyHz, levelDb: truth.placementDb },
    onGrid.frequencyHz,
  );
  return {
    id: `${scenario.name} ${seed}`,
    input: { curve: onGrid, range: workingRange(curve).range, setup },
    cancellations: truth.cancellations.map((c) => ({
      frequencyHz: c.frequencyHz,
      depthDb: -c.levelDb,
      fromHz: c.fromHz,
      toHz: c.toHz,
      surfaces: c.surfaces.map((s) => s.name),
    })),
    resonances: truth.resonances,
    interferenceDb: placement.levelDb,
    distancesM: new Map(
      scenario.planes.map((p) => [p.name, Math.abs(scenario.baffle[p.axis] - p.atM)] as const),
    ),
  };
}

export function gridded(curve: Curve): Curve {
  const grid = logGrid(curve.frequencyHz[0]!, curve.frequencyHz[curve.frequencyHz.length - 1]!);
  return resampleToGrid(curve, grid);
}
