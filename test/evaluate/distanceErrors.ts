import { fittedSurface, pathStrength } from '../../src/diagnosis/scene/fittedSurface.js';
import { describeScene } from '../../src/diagnosis/scene/scene.js';
import type { EvaluationCase } from './evaluationCase.js';

/** A surface whose reflection is weaker than this everywhere leaves no trace to be measured. */
const LEAST_STRENGTH = 0.2;

/** Relative error of each surface's distance as fitted to the curve; surfaces that leave no trace are left out. */
export function distanceErrors({ input, distancesM }: EvaluationCase): number[] {
  const { setup } = input;
  const explanation = describeScene(input).reflected?.explanation;
  if (!setup || !explanation) return [];
  return explanation.expected.flatMap((_, path) => {
    const surface = fittedSurface(explanation, path, setup);
    const trueM = surface && distancesM.get(surface.name);
    const strongest = Math.max(
      ...[100, 200, 400, 800].map((hz) => pathStrength(explanation.fit.parameters, path, hz)),
    );
    return trueM === undefined || strongest < LEAST_STRENGTH
      ? []
      : [Math.abs(surface!.distanceM / trueM - 1)];
  });
}
