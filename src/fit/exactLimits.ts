import { type Bands, NO_BANDS } from './bands.js';
import type { Bounds } from './bounds.js';
import { type Excess, measureExcess } from './excess.js';
import { fitGrid } from './fitGrid.js';
import type { FitProblem } from './fitProblem.js';
import { createObjective } from './objective.js';
import { refine } from './refine.js';
import { roundBands } from './roundBands.js';

/** Penalty at which a limit gives way by less than a thousandth of a dB for any error worth having. */
export const FIRM_PENALTY = 3000;
/** 3 dB of level given away counts as 0.0045 dB² of error: enough to stop it where it wins next to nothing. */
export const LEVEL_RESTRAINT = 5e-4;
/** Kept free under every limit, so that rounding the numbers afterwards cannot break one … */
const ROUNDING_MARGIN_DB = 0.004;
/** … and under a limit that leaves no room for it, such as no boost at all, once it is broken. */
const LEAST_MARGIN_DB = 0.0005;
/** Below this a difference of levels is rounding. */
const NOISE_DB = 1e-9;
const ROUNDS = 6;
/** Steps from the whole bank to none when gains are taken back, the first ones small. */
const SHRINKING_STEPS = 60;

/**
 * Turns limits that nearly hold into limits that hold but for a last touch, between grid points too: what gives way is
 * tightened by as much and the bank refined again.
 */
export function enforceLimits(problem: FitProblem, start: Bands, bounds: Bounds): Bands {
  const untouched = measureExcess(problem, NO_BANDS);
  let bands = start;
  let tightened = problem;
  for (let round = 0; round < ROUNDS; round++) {
    const excess = measureExcess(problem, bands);
    if (holds(excess, untouched, ROUNDING_MARGIN_DB / 2)) return bands;
    tightened = tighten(tightened, excess, untouched);
    const objective = createObjective(fitGrid(tightened, 1), bands.types.length, {
      penalty: FIRM_PENALTY,
      restraint: 0,
      levelRestraint: LEVEL_RESTRAINT,
      maxLevelLossDb: tightened.limits.maxLevelLossDb,
      ...(problem.levelDb === undefined ? {} : { levelDb: problem.levelDb }),
    });
    bands = refine(objective, bands, bounds, { maxIterations: 40, tolerance: 1e-7 }).bands;
  }
  return bands;
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
