import type { Curve, FrequencyRange } from '../curve/curve.js';
import { lowerIndex } from '../curve/lowerIndex.js';
import { condense } from './condense.js';
import { fitPaths, type PathFit, type PathPrior, priorCost, strengthPrecision } from './fitPaths.js';
import { noiseProfile } from './noiseProfile.js';
import {
  addedPath,
  KNOTS_HZ,
  PARAMETERS_PER_PATH,
  type PathGrid,
  pathGrid,
  strengthOver,
  sumPaths,
} from './pathModel.js';
import { type SpeakerPrior, speakerWhitener, type Whitener } from './speakerPrior.js';

/** A path that the set-up or the impulse response gives reason to look for. */
export interface ExpectedPath {
  readonly name: string;
  readonly prior: PathPrior;
}

/** The reflections that explain a curve best. */
export interface Explanation {
  /** Grid of the fitted span. */
  readonly grid: PathGrid;
  readonly speakerPrior: SpeakerPrior;
  /** The curve in the fitted span, level and roll-off taken out. */
  readonly levelDb: Float64Array;
  readonly fit: PathFit;
  readonly priors: readonly PathPrior[];
  /** Name of each path; undefined for one that was found in the curve alone. */
  readonly names: readonly (string | undefined)[];
}

const SPAN: FrequencyRange = { fromHz: 40, toHz: 2500 };
/** The speaker's own: wide swings, and resonances. */
const SPEAKER_RIPPLES = [
  { sigmaDb: 2.5, widthOctaves: 1.4 },
  { sigmaDb: 0.6, widthOctaves: 0.35 },
];
const RIPPLE_OCTAVES = 0.045;
const COARSE_BELOW_HZ = 500;
/** A path found in the curve must lower the cost by this much to be taken up. */
const LEAST_GAIN = 14;
const BLIND_STRENGTH = [0.35, 0.3, 0.22, 0.15];
const BLIND_FROM_M = 0.15;
const BLIND_TO_M = 5;
const BLIND_PER_OCTAVE = 24;
const BLIND_PRECISION = strengthPrecision(KNOTS_HZ.length, 0.6, 0.4);
const RESCAN_STEPS = 8;
/** How far off (in ln) a set-up may be and still give its name to a path that was found in the curve. */
const FARTHEST = 0.55;
/** What it costs to hold that an expected path left no trace of its own in the curve. */
const UNSEEN_COST = 6;
/** Ways of naming the paths found in the curve that are followed to the end. */
const ASSIGNMENTS = 3;
/** Noise that makes a point count for nothing. */
const HIDDEN_DB = 100;
/** Rounds that show whether a start is worth following. */
const SKETCH_ROUNDS = 4;

export interface ExplainOptions {
  readonly speedOfSoundMs: number;
  readonly expected: readonly ExpectedPath[];
  /** How many paths beyond the expected ones may be found in the curve. */
  readonly maxUnnamed: number;
}

/** Finds strengths and lengths of reflected paths, all together, against a curve. */
export function explainByPaths(
  curve: Curve,
  range: FrequencyRange,
  options: ExplainOptions,
): Explanation | undefined {
  const from = curve.frequencyHz.findIndex((f) => f >= Math.max(SPAN.fromHz, range.fromHz));
  const to = curve.frequencyHz.findLastIndex((f) => f <= Math.min(SPAN.toHz, range.toHz));
  if (from < 0 || to - from < 48) return undefined;
  const span = {
    frequencyHz: curve.frequencyHz.slice(from, to + 1),
    levelDb: curve.levelDb.slice(from, to + 1),
  };
  const noise = noiseProfile(span.frequencyHz.map(Math.log2), span.levelDb);
  const { frequencyHz, levelDb } = condense(span, COARSE_BELOW_HZ);
  const octave = frequencyHz.map(Math.log2);
  const at = frequencyHz.map((f) => Math.max(0, lowerIndex(span.frequencyHz, f)));
  const middle = levelDb[levelDb.length >> 1]!;
  for (let i = 0; i < levelDb.length; i++) levelDb[i]! -= middle;
  const prior: SpeakerPrior = {
    ripples: [
      ...SPEAKER_RIPPLES,
      { sigmaDb: at.map((i) => noise.rippleDb[i]!), widthOctaves: RIPPLE_OCTAVES },
    ],
    noiseDb: at.map((i, k) => noise.pointDb[i]! / (frequencyHz[k]! < COARSE_BELOW_HZ ? Math.SQRT2 : 1)),
  };
  const whitener = speakerWhitener(octave, prior);
  const grid = pathGrid(frequencyHz, options.speedOfSoundMs);

  const problem: Problem = { levelDb, whitener, grid };
  const expected = options.expected.map((e) => e.prior);
  const blind = addUnnamed(
    problem,
    { priors: [], named: 0, fit: fitPaths(levelDb, whitener, grid, [], []) },
    options.maxUnnamed,
  );
  let best = blind;
  if (expected.length > 0) {
    const literal = rescan(
      problem,
      expected,
      fitPaths(levelDb, whitener, grid, expected, expected.flatMap(startOf)),
    );
    const fromSetup = addUnnamed(problem, { priors: expected, named: expected.length, fit: literal }, 2);
    best = fromSetup;
    for (const solution of assign(problem, expected, blind)) if (price(solution) < price(best)) best = solution;
  }
  const names = best.priors.map((_, p) => options.expected[p]?.name);
  return { grid, speakerPrior: prior, levelDb, fit: best.fit, priors: best.priors, names };
}

interface Problem {
  readonly levelDb: Float64Array;
  readonly whitener: Whitener;
  readonly grid: PathGrid;
}

/** Paths of which the first `named` are expected ones. */
interface Solution {
  readonly priors: readonly PathPrior[];
  readonly named: number;
  readonly fit: PathFit;
}

const price = ({ priors, named, fit }: Solution): number => fit.cost + LEAST_GAIN * (priors.length - named);

function addUnnamed(problem: Problem, start: Solution, most: number): Solution {
  let solution = start;
  for (let extra = 0; extra < most; extra++) {
    const found = findPath(problem, solution);
    if (!found) break;
    solution = found;
  }
  return solution;
}

/**
 * Gives the expected paths the places of those found in the curve, in the ways that cost least by the priors (a
 * set-up may be so far off that the nearest is not the right one), and fits again.
 */
function assign(problem: Problem, expected: readonly PathPrior[], blind: Solution): Solution[] {
  const found = blind.priors.map((_, p) =>
    blind.fit.parameters.slice(p * PARAMETERS_PER_PATH, (p + 1) * PARAMETERS_PER_PATH),
  );
  let partial: { taken: readonly number[]; cost: number }[] = [{ taken: [], cost: 0 }];
  for (const prior of expected) {
    partial = partial
      .flatMap(({ taken, cost }) => [
        { taken: [...taken, -1], cost: cost + UNSEEN_COST },
        ...found.flatMap((parameters, f) =>
          taken.includes(f) || Math.abs(parameters[0]! - prior.lnDifference) > FARTHEST
            ? []
            : [{ taken: [...taken, f], cost: cost + priorCost(prior, parameters, 0) - LEAST_GAIN }],
        ),
      ])
      .sort((a, b) => a.cost - b.cost)
      .slice(0, 60);
  }
  return partial.slice(0, ASSIGNMENTS).map(({ taken }) => settle(problem, expected, blind, found, taken));
}

function settle(
  { levelDb, whitener, grid }: Problem,
  expected: readonly PathPrior[],
  blind: Solution,
  found: readonly Float64Array[],
  taken: readonly number[],
): Solution {
  const rest = found.flatMap((parameters, f) =>
    taken.includes(f) ? [] : [{ parameters, prior: blind.priors[f]! }],
  );
  const named = expected.map((prior, e) => found[taken[e]!] ?? startOf(prior));
  let priors = [...expected, ...rest.map((r) => r.prior)];
  let fit = fitPaths(
    levelDb,
    whitener,
    grid,
    priors,
    [...named, ...rest.map((r) => r.parameters)].flatMap((p) => [...p]),
  );
  // What the named ones explain now needs no unnamed one beside them.
  for (let p = priors.length - 1; p >= expected.length; p--) {
    const fewer = priors.filter((_, k) => k !== p);
    const start = fit.parameters.filter((_, k) => Math.floor(k / PARAMETERS_PER_PATH) !== p);
    const without = fitPaths(levelDb, whitener, grid, fewer, start, SKETCH_ROUNDS);
    if (without.cost > fit.cost + LEAST_GAIN) continue;
    priors = fewer;
    fit = without;
  }
  return { priors, named: expected.length, fit };
}

const startOf = (prior: PathPrior): number[] => [prior.lnDifference, ...prior.lnStrength];

/**
 * Tries other lengths for each expected path while the others stay, then a short fit of all from the most promising:
 * a fit from the nominal place may have ended in the wrong valley.
 */
function rescan({ levelDb, whitener, grid }: Problem, priors: readonly PathPrior[], first: PathFit): PathFit {
  const target = whitener.whiten(levelDb);
  let best = first;
  for (let round = 0; round < 2; round++) {
    const before = best.cost;
    priors.forEach((prior, p) => {
      const base = p * PARAMETERS_PER_PATH;
      const reach = Math.max(0.3, 3 * prior.lnDifferenceScale);
      const trials = Array.from({ length: 2 * RESCAN_STEPS + 1 }, (_, step) => {
        const start = best.parameters.slice();
        start[base] = prior.lnDifference + (step / RESCAN_STEPS - 1) * reach;
        start.set(prior.lnStrength, base + 1);
        const model = whitener.whiten(sumPaths(grid, start).levelDb);
        let cost = 0;
        for (let i = 0; i < model.length; i++) cost += (target[i]! - model[i]!) ** 2;
        return { start, cost };
      });
      const current = best.parameters[base]!;
      const promising = trials
        .filter(
          ({ start, cost }, i) =>
            Math.abs(start[base]! - current) > 0.06 &&
            cost <= (trials[i - 1]?.cost ?? cost) &&
            cost < (trials[i + 1]?.cost ?? Number.POSITIVE_INFINITY),
        )
        .sort((a, b) => a.cost - b.cost)
        .slice(0, 2);
      for (const { start } of promising) {
        const sketch = fitPaths(levelDb, whitener, grid, priors, start, SKETCH_ROUNDS);
        if (sketch.cost > best.cost + 10) continue;
        const fit = fitPaths(levelDb, whitener, grid, priors, sketch.parameters);
        if (fit.cost < best.cost - 0.5) best = fit;
      }
    });
    if (best.cost > before - 0.5) break;
  }
  return best;
}

/** Looks for one more path by what adding a little of it would gain, then fits all together. */
function findPath(problem: Problem, { priors, named, fit }: Solution): Solution | undefined {
  const { levelDb, whitener, grid } = problem;
  const residual = whitener.whiten(levelDb.map((l, i) => l - fit.levelDb[i]!));
  const now = sumPaths(grid, fit.parameters);
  const lnStrength = BLIND_STRENGTH.map(Math.log);
  const strength = strengthOver(grid, lnStrength);
  const steps = Math.ceil(Math.log2(BLIND_TO_M / BLIND_FROM_M) * BLIND_PER_OCTAVE);
  const gains = Array.from({ length: steps + 1 }, (_, step) => {
    const column = whitener.whiten(addedPath(grid, now, lengthAt(step), strength));
    let up = 0;
    let norm = 0;
    for (let i = 0; i < column.length; i++) {
      up += column[i]! * residual[i]!;
      norm += column[i]! ** 2;
    }
    const amount = Math.min(Math.max(0, up / norm), 1.5);
    return 2 * amount * up - amount * amount * norm;
  });
  const tops = gains
    .map((gain, step) => ({ gain, step }))
    .filter(({ gain, step }) => gain > 4 && gain >= (gains[step - 1] ?? 0) && gain > (gains[step + 1] ?? 0))
    .sort((a, b) => b.gain - a.gain)
    .slice(0, 3);
  let best: { prior: PathPrior; fit: PathFit } | undefined;
  for (const { step } of tops) {
    const prior: PathPrior = {
      lnDifference: Math.log(lengthAt(step)),
      lnDifferenceScale: Number.POSITIVE_INFINITY,
      lnStrength,
      strengthPrecision: BLIND_PRECISION,
    };
    const start = [...fit.parameters, prior.lnDifference, ...lnStrength.map((s) => s - 0.7)];
    const sketch = fitPaths(levelDb, whitener, grid, [...priors, prior], start, SKETCH_ROUNDS);
    if (!best || sketch.cost < best.fit.cost) best = { prior, fit: sketch };
  }
  if (!best) return undefined;
  const all = [...priors, best.prior];
  const finished = fitPaths(levelDb, whitener, grid, all, best.fit.parameters);
  return finished.cost < fit.cost - LEAST_GAIN ? { priors: all, named, fit: finished } : undefined;
}

const lengthAt = (step: number): number => BLIND_FROM_M * 2 ** (step / BLIND_PER_OCTAVE);

/**
 * The reflections that the rest of the curve speaks for when the span `fromHz` to `toHz` is kept out of sight: what
 * they foretell inside it is a prediction and not a description.
 */
export function explainWithout(explanation: Explanation, fromHz: number, toHz: number): PathFit {
  const { grid, speakerPrior, levelDb, priors, fit } = explanation;
  const noiseDb = speakerPrior.noiseDb.map((noise, i) =>
    grid.frequencyHz[i]! > fromHz && grid.frequencyHz[i]! < toHz ? HIDDEN_DB : noise,
  );
  const whitener = speakerWhitener(grid.frequencyHz.map(Math.log2), { ...speakerPrior, noiseDb });
  return fitPaths(levelDb, whitener, grid, priors, fit.parameters, SKETCH_ROUNDS);
}
