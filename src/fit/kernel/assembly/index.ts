// The refinement's sums in WebAssembly: a twin, digit for digit, of objective.ts, linearize.ts and solveDamped.ts.

export { linearize } from './linearize';
export {
  backgroundDb,
  capDb,
  deviationDb,
  eqDb,
  free,
  gradient,
  inside,
  layOut,
  meanShare,
  normalMatrix,
  residual,
  step,
  types,
  values,
  warped,
  weight,
  zones,
} from './memory';
export { set } from './settings';
export { solve } from './solve';
export { value } from './value';
