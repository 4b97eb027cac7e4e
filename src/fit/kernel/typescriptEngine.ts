import type { Bands } from '../bank/bands.js';
import type { Objective } from '../objective/objective.js';
import type { Engine } from './engine.js';
import { linearize } from './typescript/linearize.js';
import { solveDamped } from './typescript/solveDamped.js';
import { value } from './typescript/value.js';

export function typescriptEngine(objective: Objective): Engine {
  const { gradient, normalMatrix, work } = objective;
  const { free, step, factor } = work;
  const evaluate = (bands: Bands) => value(objective, bands);
  return {
    value: evaluate,
    evaluate,
    linearize: (bands) => linearize(objective, bands),
    gradient,
    normalMatrix,
    free,
    solve: (n, count, damping) => solveDamped(normalMatrix, gradient, n, free, damping, step, count, factor),
    step,
  };
}
