import { NO_BANDS, typeCode, withoutBand } from './bands.js';
import { boundsOf } from './bounds.js';
import { createDictionary } from './dictionary.js';
import { LEVEL_RESTRAINT } from './exactLimits.js';
import { cellGrid } from './fitGrid.js';
import type { FitProblem } from './fitProblem.js';
import { drawMove } from './moves.js';
import { createObjective, objectiveValue, squaredError } from './objective.js';
import { type Refined, refine } from './refine.js';
import { nearest, refineLocally, withNeighbours } from './refineLocally.js';
import { searchBanks } from './search.js';
import { byValue, insert, isAllowed, LOCAL, propose, type SearchSpace, THOROUGH } from './searchSpace.js';

/** What remains with the best bank of so many bands that one warm-started sweep finds. */
export interface ErrorAtBands {
  readonly bands: number;
  readonly rmsDb: number;
}

export interface ErrorCurve {
  /** From no band to the most that were tried, never rising. */
  readonly points: readonly ErrorAtBands[];
  /** The number beyond which another band brings little: where the curve lies farthest below its chord. */
  readonly kneeBands: number;
}

const POINTS_PER_OCTAVE = 12;
const PENALTY = 200;
const ANEW = { starts: 2, hopsPerBand: 5, finalists: 1 };
const EXTRA_BANDS = 4;
/** The sweep turns round so many bands above the most asked for, so that these are reached from both sides. */
const BEYOND = 3;

/**
 * The remaining error against the number of bands: one bank grows by a band at a time, with a few moves after each, and
 * is held against a short search from nothing;
 * on the way back the cheapest band is dropped again and again, and of the two the better counts.
 *
 * @param maxBands the most to try
 * @param movesPerBand moves tried at each number on the way up
 */
export function errorCurve(
  problem: FitProblem,
  options: { readonly random: () => number; readonly maxBands: number; readonly movesPerBand?: number },
): ErrorCurve {
  const { random, maxBands, movesPerBand = 8 } = options;
  const top = maxBands + BEYOND;
  const at = spaceFor(problem, top);
  const none = refine(at(0).objective, NO_BANDS, at(0).bounds, THOROUGH);
  const best: Refined[] = [none];
  for (let bands = 1; bands <= top; bands++) {
    const space = at(bands);
    let current = withOneMore(space, best[bands - 1]!);
    for (let move = 0; move < movesPerBand && current.bands.types.length === bands; move++) {
      const tried = drawMove(random)(space, current, random);
      if (isAllowed(space, tried.bands) && tried.value < current.value) current = tried;
    }
    // Growth by one may hang on a bank that no longer has its bands where more of them belong: begin anew beside it.
    const anew = searchBanks(space, { ...ANEW, pointsPerOctave: POINTS_PER_OCTAVE }, random)[0]!;
    best.push(anew.value < current.value ? anew : current);
  }
  for (let bands = top - 1; bands >= 1; bands--) {
    const fewer = withOneLess(at(bands), best[bands + 1]!);
    if (fewer && fewer.value < best[bands]!.value) best[bands] = fewer;
  }
  let least = Number.POSITIVE_INFINITY;
  const points = best.slice(0, maxBands + 1).map((bank, bands) => {
    const { objective } = at(bands);
    objectiveValue(objective, bank.bands);
    least = Math.min(least, Math.sqrt(squaredError(objective)));
    return { bands, rmsDb: least };
  });
  return { points, kneeBands: kneeOf(points) };
}

/** The search space for each number of bands; they share all but the number. */
function spaceFor(problem: FitProblem, maxBands: number): (bands: number) => SearchSpace {
  const bounds = boundsOf(problem.limits);
  const octaves = Math.log2(problem.frequencyHz.at(-1)! / problem.frequencyHz[0]!);
  const perCell = Math.floor(problem.frequencyHz.length / Math.max(1, octaves * POINTS_PER_OCTAVE));
  const objective = createObjective(cellGrid(problem, Math.max(1, perCell)), maxBands + EXTRA_BANDS, {
    penalty: PENALTY,
    restraint: 0,
    levelRestraint: LEVEL_RESTRAINT / 100,
    maxLevelLossDb: problem.limits.maxLevelLossDb,
    ...(problem.levelDb === undefined ? {} : { levelDb: problem.levelDb }),
  });
  const types = problem.limits.types.map(typeCode);
  const dictionary = createDictionary(objective.grid, bounds, types, problem.levelDb === undefined);
  // With slots in plenty, of the kinds there are: the curve tells of numbers, not of one device's layout.
  return (bands) => ({ objective, dictionary, bounds, maxBands: bands, types });
}

function withOneMore(space: SearchSpace, start: Refined): Refined {
  const settled = propose(space, start.bands, 5).map((candidate) => {
    const bands = insert(start.bands, candidate);
    const moving = withNeighbours(bands, bands.types.length - 1, 1);
    return refineLocally(space.objective, bands, moving, space.bounds, LOCAL);
  });
  const best = settled.sort(byValue)[0];
  if (!best || best.value >= start.value) return start;
  return refine(space.objective, best.bands, space.bounds, THOROUGH);
}

function withOneLess(space: SearchSpace, { bands }: Refined): Refined | undefined {
  const shorter = Array.from(bands.types.keys()).map((out) => {
    const rest = withoutBand(bands, out);
    const moving = nearest(rest, bands.values[3 * out]!, 2);
    return refineLocally(space.objective, rest, moving, space.bounds, LOCAL);
  });
  const best = shorter.sort(byValue)[0];
  return best && refine(space.objective, best.bands, space.bounds, THOROUGH);
}

/** Where the curve lies farthest below the straight line between its ends; 0 where nothing is to be won. */
function kneeOf(points: readonly ErrorAtBands[]): number {
  const [first, last] = [points[0]!, points.at(-1)!];
  const span = first.rmsDb - last.rmsDb;
  if (!(span > 0) || last.bands === 0) return 0;
  const below = ({ bands, rmsDb }: ErrorAtBands) => (first.rmsDb - rmsDb) / span - bands / last.bands;
  return points.reduce((a, b) => (below(b) > below(a) ? b : a)).bands;
}
