import type { Bands } from './bands.js';
import type { Bounds } from './bounds.js';
import { measureExcess, worst } from './excess.js';
import { fitGrid } from './fitGrid.js';
import type { FitProblem } from './fitProblem.js';
import { createObjective } from './objective.js';
import { refine } from './refine.js';

/** Penalty at which a limit gives way by less than a thousandth of a dB for any error worth having. */
export const FIRM_PENALTY = 3000;
/** 3 dB of level given away counts as 0.0045 dB² of error: enough to stop it where it wins next to nothing. */
export const LEVEL_RESTRAINT = 5e-4;
/** Kept free under every limit, so that rounding the numbers afterwards cannot break one. */
const ROUNDING_MARGIN_DB = 0.004;
const ROUNDS = 6;

/**
 * Turns limits that nearly hold into limits that hold, between grid points too: what gives way is tightened by as much
 * and the bank refined again; what is left after that is taken off all gains in proportion.
 */
export function enforceLimits(problem: FitProblem, start: Bands, bounds: Bounds): Bands {
  let bands = start;
  let tightened = problem;
  for (let round = 0; round < ROUNDS; round++) {
    const excess = measureExcess(problem, bands);
    if (worst(excess) <= -ROUNDING_MARGIN_DB / 2) return bands;
    tightened = tighten(tightened, {
      capDb: overshoot(excess.capDb),
      zoneRiseDb: overshoot(excess.zoneRiseDb),
      zoneFallDb: overshoot(excess.zoneFallDb),
      levelLossDb: overshoot(excess.levelLossDb),
    });
    const objective = createObjective(fitGrid(tightened, 1), bands.types.length, {
      penalty: FIRM_PENALTY,
      restraint: 0,
      levelRestraint: LEVEL_RESTRAINT,
      maxLevelLossDb: tightened.limits.maxLevelLossDb,
      ...(problem.levelDb === undefined ? {} : { levelDb: problem.levelDb }),
    });
    bands = refine(objective, bands, bounds, { maxIterations: 40, tolerance: 1e-7 }).bands;
  }
  return scaleIntoLimits(problem, bands, ROUNDING_MARGIN_DB / 2);
}

/** Takes all gains back in proportion until every limit holds with `marginDb` to spare; no EQ always fits. */
export function scaleIntoLimits(problem: FitProblem, bands: Bands, marginDb: number): Bands {
  const scaled = (share: number): Bands => ({
    types: bands.types,
    values: bands.values.map((value, j) => (j % 3 === 1 ? value * share : value)),
  });
  for (let share = 1; share > 0; share -= 0.002) {
    const candidate = scaled(share);
    if (worst(measureExcess(problem, candidate)) <= -marginDb) return candidate;
  }
  return scaled(0);
}

function overshoot(excessDb: number): number {
  return excessDb > -ROUNDING_MARGIN_DB ? excessDb + ROUNDING_MARGIN_DB : 0;
}

function tighten(
  problem: FitProblem,
  by: { capDb: number; zoneRiseDb: number; zoneFallDb: number; levelLossDb: number },
): FitProblem {
  return {
    ...problem,
    capDb: problem.capDb.map((cap) => cap - by.capDb),
    zones: problem.zones.map((zone) => ({
      ...zone,
      maxRiseDb: zone.maxRiseDb - by.zoneRiseDb,
      maxFallDb: zone.maxFallDb - by.zoneFallDb,
    })),
    limits: { ...problem.limits, maxLevelLossDb: problem.limits.maxLevelLossDb - by.levelLossDb },
  };
}
