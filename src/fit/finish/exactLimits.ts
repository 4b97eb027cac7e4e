import { type Bands, NO_BANDS } from '../bank/bands.js';
import type { Bounds } from '../bank/bounds.js';
import { roundBands } from '../bank/roundBands.js';
import {
  type Excess,
  type ExcessByLimit,
  excessByLimit,
  measureExcess,
  worstExcess,
} from '../objective/excess.js';
import type { Charge } from '../objective/gainCharge.js';
import { createObjective } from '../objective/objective.js';
import { type FitGrid, fullGrid, withLimitsOf } from '../problem/fitGrid.js';
import type { FitProblem } from '../problem/fitProblem.js';
import { objectiveValue } from '../refinement/objectiveValue.js';
import { refine } from '../refinement/refine.js';

/** Penalty at which a limit gives way by less than a thousandth of a dB for any error worth having. */
export const FIRM_PENALTY = 3000;
/** Here a limit that gives way is drawn in by as much, so that less will do and the refinement does not creep. */
const ENFORCING_PENALTY = 400;
/** 3 dB of level given away counts as 0.0045 dB² of error: enough to stop it where it wins next to nothing. */
export const LEVEL_RESTRAINT = 5e-4;
/** Kept free under every limit, so that rounding the numbers afterwards cannot break one … */
const ROUNDING_MARGIN_DB = 0.004;
/** … and under a limit that leaves no room for it, such as no boost at all, once it is broken. */
const LEAST_MARGIN_DB = 0.0005;
/** Below this a difference of levels is rounding. */
const NOISE_DB = 1e-9;
const ROUNDS = 8;
/** Steps from the whole bank to none when gains are taken back, the first ones small. */
const SHRINKING_STEPS = 60;

/**
 * Turns limits that nearly hold into limits that hold but for a last touch, between grid points too: each limit that
 * gives way is drawn in where it does and by as much, or let out again where it was drawn in too far, and the bank
 * refined anew. The best bank within all limits is kept; where there was none, the last.
 *
 * @param charge weighs on the numbers meanwhile
 */
export function enforceLimits(problem: FitProblem, start: Bands, bounds: Bounds, charge?: Charge): Bands {
  const untouched = excessByLimit(problem, NO_BANDS);
  const least = worstExcess(untouched);
  const drawnIn = noDraw(problem);
  const grid = fullGrid(problem);
  let bands = start;
  let best: { bands: Bands; error: number } | undefined;
  for (let round = 0; round < ROUNDS; round++) {
    const excess = excessByLimit(problem, bands);
    if (holds(worstExcess(excess), least, ROUNDING_MARGIN_DB / 4)) {
      const error = exactError(problem, grid, bands);
      if (best && error > best.error * (1 - WORTH_ANOTHER_ROUND))
        return error < best.error ? bands : best.bands;
      best = { bands, error };
      if (isUntouched(drawnIn)) return bands;
    }
    drawIn(drawnIn, excess, untouched);
    const objective = createObjective(withLimitsOf(within(problem, drawnIn), grid), bands.types.length, {
      penalty: ENFORCING_PENALTY,
      restraint: 0,
      levelRestraint: 0,
      maxLevelLossDb: problem.limits.maxLevelLossDb - drawnIn.levelLossDb,
      ...(problem.levelDb === undefined ? {} : { levelDb: problem.levelDb }),
    });
    const options = { maxIterations: 30, tolerance: 1e-6, ...(charge && { charge }) };
    bands = refine(objective, bands, bounds, options).bands;
  }
  return best?.bands ?? bands;
}

/** By how many dB each limit is drawn in at present. */
interface DrawnIn {
  readonly capDb: Float64Array;
  readonly zoneRiseDb: number[];
  readonly zoneFallDb: number[];
  levelLossDb: number;
}

/** A squared error lower by less than this share is not worth another round. */
const WORTH_ANOTHER_ROUND = 2e-3;

function noDraw({ capDb, zones }: FitProblem): DrawnIn {
  const zeros = () => zones.map(() => 0);
  return {
    capDb: new Float64Array(capDb.length),
    zoneRiseDb: zeros(),
    zoneFallDb: zeros(),
    levelLossDb: 0,
  };
}

function isUntouched({ capDb, zoneRiseDb, zoneFallDb, levelLossDb }: DrawnIn): boolean {
  return levelLossDb === 0 && [capDb, zoneRiseDb, zoneFallDb].every((list) => list.every((db) => db === 0));
}

function drawIn(drawn: DrawnIn, excess: ExcessByLimit, untouched: ExcessByLimit): void {
  // Where no EQ at all leaves no room either, only rounding is kept free.
  const next = (now: number, over: number, none: number) =>
    Math.max(0, now + over + Math.max(LEAST_MARGIN_DB, Math.min(ROUNDING_MARGIN_DB, -none)));
  for (let i = 0; i < drawn.capDb.length; i++) {
    drawn.capDb[i] = next(drawn.capDb[i]!, excess.capDb[i]!, untouched.capDb[i]!);
  }
  drawn.zoneRiseDb.forEach((now, z) => {
    drawn.zoneRiseDb[z] = next(now, excess.zoneRiseDb[z]!, untouched.zoneRiseDb[z]!);
    drawn.zoneFallDb[z] = next(drawn.zoneFallDb[z]!, excess.zoneFallDb[z]!, untouched.zoneFallDb[z]!);
  });
  drawn.levelLossDb = next(drawn.levelLossDb, excess.levelLossDb, untouched.levelLossDb);
}

function within(problem: FitProblem, drawn: DrawnIn): FitProblem {
  return {
    ...problem,
    capDb: problem.capDb.map((cap, i) => cap - drawn.capDb[i]!),
    zones: problem.zones.map((zone, z) => ({
      ...zone,
      maxRiseDb: zone.maxRiseDb - drawn.zoneRiseDb[z]!,
      maxFallDb: zone.maxFallDb - drawn.zoneFallDb[z]!,
    })),
  };
}

function exactError(problem: FitProblem, grid: FitGrid, bands: Bands): number {
  const objective = createObjective(grid, bands.types.length, {
    penalty: 0,
    restraint: 0,
    levelRestraint: 0,
    maxLevelLossDb: 0,
    ...(problem.levelDb === undefined ? {} : { levelDb: problem.levelDb }),
  });
  return objectiveValue(objective, bands);
}

/**
 * Rounds a bank (see roundBands.ts) and, where that or what was left before breaks a limit, takes gains back until
 * every limit holds: the boosts alone, the cuts alone, or all of them, whichever needs least. No EQ always fits.
 */
export function roundIntoLimits(problem: FitProblem, bands: Bands, bounds: Bounds): Bands {
  const untouched = measureExcess(problem, NO_BANDS);
  for (let step = 0; step < SHRINKING_STEPS; step++) {
    const share = 1 - (step / SHRINKING_STEPS) ** 2;
    for (const [boostShare, cutShare] of [
      [share, 1],
      [1, share],
      [share, share],
    ] as const) {
      const values = bands.values.map((v, j) => (j % 3 === 1 ? v * (v > 0 ? boostShare : cutShare) : v));
      const candidate = roundBands({ types: bands.types, values }, bounds);
      if (holds(measureExcess(problem, candidate), untouched, 0)) return candidate;
    }
  }
  return NO_BANDS;
}

/** Whether every limit holds with `marginDb` to spare, or with as much as no EQ at all would leave if that is less. */
export function holds(excess: Excess, untouched: Excess, marginDb: number): boolean {
  return LIMITS.every((limit) => excess[limit] <= Math.max(-marginDb, untouched[limit]) + NOISE_DB);
}

const LIMITS = ['capDb', 'zoneRiseDb', 'zoneFallDb', 'levelLossDb'] as const;

/** The problem with every limit that a bank breaks drawn in by as much and a little more. */
export function tighten(problem: FitProblem, excess: Excess, untouched: Excess): FitProblem {
  const by = (limit: keyof Excess) => overshoot(excess[limit], -untouched[limit]);
  return {
    ...problem,
    capDb: problem.capDb.map((cap) => cap - by('capDb')),
    zones: problem.zones.map((zone) => ({
      ...zone,
      maxRiseDb: zone.maxRiseDb - by('zoneRiseDb'),
      maxFallDb: zone.maxFallDb - by('zoneFallDb'),
    })),
    limits: { ...problem.limits, maxLevelLossDb: problem.limits.maxLevelLossDb - by('levelLossDb') },
  };
}

function overshoot(excessDb: number, roomDb: number): number {
  const marginDb = Math.min(ROUNDING_MARGIN_DB, roomDb);
  return excessDb > NOISE_DB - marginDb ? excessDb + Math.max(marginDb, LEAST_MARGIN_DB) : 0;
}
