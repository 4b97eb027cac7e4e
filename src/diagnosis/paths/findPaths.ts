import { pow2 } from '../../elementary/exponential.js';
import { log, log2 } from '../../elementary/logarithm.js';
import { fitPaths, type PathPrior, strengthPrecision } from './fitPaths.js';
import { addedPath, KNOTS_HZ, strengthOver, sumPaths } from './pathModel.js';
import type { PathProblem } from './pathProblem.js';
import { LEAST_GAIN, type PathSolution, SKETCH_ROUNDS } from './pathSolution.js';

/** Strength at the knots of a reflection of which nothing is known. */
const STRENGTH = [0.35, 0.3, 0.22, 0.15];
const LN_STRENGTH = STRENGTH.map(log);
const PRECISION = strengthPrecision(KNOTS_HZ.length, 0.6, 0.4);
/** Path differences that are looked at. */
const FROM_M = 0.15;
const TO_M = 5;
const PER_OCTAVE = 24;
const FOLLOWED = 3;

/**
 * Adds paths that nothing but the curve speaks for, one at a time, each fitted together with all others.
 *
 * Where to look is seen in the cepstrum: ln|1 + g·e^(−jωτ)| = g·cos ωτ − …, so a reflection is a cosine over linear
 * frequency in the log-magnitude, and how much adding a little of one at each τ would lower the misfit is the power
 * cepstrum, with the trend taken out and each point weighed by what the speaker's own irregularity leaves of it
 * (Bogert, Healy & Tukey 1963; as least squares over uneven points as in Lomb 1976).
 */
export function findPaths(problem: PathProblem, start: PathSolution, most: number): PathSolution {
  let solution = start;
  for (let extra = 0; extra < most; extra++) {
    const found = findPath(problem, solution);
    if (!found) break;
    solution = found;
  }
  return solution;
}

function findPath(problem: PathProblem, solution: PathSolution): PathSolution | undefined {
  const { priors, pairs, fit } = solution;
  const cepstrum = pathCepstrum(problem, solution);
  const tops = Array.from(cepstrum.keys())
    .filter((i) => {
      const gain = cepstrum[i]!;
      return gain > 4 && gain >= (cepstrum[i - 1] ?? 0) && gain > (cepstrum[i + 1] ?? 0);
    })
    .sort((a, b) => cepstrum[b]! - cepstrum[a]!)
    .slice(0, FOLLOWED);
  let best: PathSolution | undefined;
  for (const top of tops) {
    const prior: PathPrior = {
      lnDifference: log(lengthAt(top)),
      lnDifferenceScale: Number.POSITIVE_INFINITY,
      lnStrength: LN_STRENGTH,
      strengthPrecision: PRECISION,
    };
    const all = [...priors, prior];
    const start = [...fit.parameters, prior.lnDifference, ...LN_STRENGTH.map((s) => s - 0.7)];
    const sketch = fitPaths(problem, all, start, { pairs, maxRounds: SKETCH_ROUNDS });
    if (!best || sketch.cost < best.fit.cost) best = { ...solution, priors: all, fit: sketch };
  }
  if (!best) return undefined;
  const finished = fitPaths(problem, best.priors, best.fit.parameters, { pairs });
  return finished.cost < fit.cost - LEAST_GAIN ? { ...best, fit: finished } : undefined;
}

/** How much the misfit would fall by one more path of each length, beyond those of `solution`. */
function pathCepstrum({ levelDb, whitener, grid }: PathProblem, { fit, pairs }: PathSolution): Float64Array {
  const residual = whitener.whiten(levelDb.map((l, i) => l - fit.levelDb[i]!));
  const now = sumPaths(grid, fit.parameters, pairs);
  const strength = strengthOver(grid, LN_STRENGTH);
  const steps = Math.ceil(log2(TO_M / FROM_M) * PER_OCTAVE);
  return Float64Array.from({ length: steps + 1 }, (_, step) => {
    const column = whitener.whiten(addedPath(grid, now, lengthAt(step), strength));
    let along = 0;
    let norm = 0;
    for (let i = 0; i < column.length; i++) {
      along += column[i]! * residual[i]!;
      norm += column[i]! ** 2;
    }
    // A reflection as strong as the direct sound is the most there is.
    const amount = Math.min(Math.max(0, along / norm), 1.5);
    return 2 * amount * along - amount * amount * norm;
  });
}

function lengthAt(step: number): number {
  return FROM_M * pow2(step / PER_OCTAVE);
}
