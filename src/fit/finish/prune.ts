import { withoutBand } from '../bank/bands.js';
import type { Bounds } from '../bank/bounds.js';
import { type Objective, squaredError } from '../objective/objective.js';
import { objectiveValue } from '../refinement/objectiveValue.js';
import { type Refined, refine } from '../refinement/refine.js';

/** What the bands that are dropped may cost together: this share of the RMS error, or this many dB if that is more. */
export interface PruneAllowance {
  readonly share: number;
  readonly db: number;
  /** An RMS error below this is as good as none: bands that only lower it further are not worth having. */
  readonly goodEnoughDb: number;
  /** Squared RMS, dB², that a band wins by following noise: what brings no more is dropped, each on its own account. */
  readonly noisePerBand?: number;
}

/** A bank whose RMS error stands this far above the allowance after five iterations is not refined to its end. */
const HOPELESS = 1.3;

/**
 * Drops bands that hardly help: one after the other, always the cheapest, each time refining the rest, as long as the
 * RMS error stays within the allowance of the full bank's.
 */
export function prune(
  objective: Objective,
  full: Refined,
  bounds: Bounds,
  allowance: PruneAllowance,
): Refined {
  const rms = (refined: Refined) => {
    objectiveValue(objective, refined.bands);
    return Math.sqrt(squaredError(objective));
  };
  const fullRms = rms(full);
  const noise = (current: Refined) =>
    (allowance.noisePerBand ?? 0) * (full.bands.types.length - current.bands.types.length);
  const limitDb = (current: Refined) =>
    Math.max(
      fullRms + Math.max(allowance.db, allowance.share * fullRms),
      Math.sqrt(fullRms ** 2 + noise(current)),
      allowance.goodEnoughDb,
    );
  let current = withoutFaint(objective, full, bounds);
  while (current.bands.types.length > 0) {
    const cheapest = cheapestRemovals(objective, current, 3)
      .map((bands) =>
        refine(objective, bands, bounds, {
          maxIterations: 30,
          tolerance: 1e-4,
          hopelessAbove: (HOPELESS * limitDb({ ...current, bands })) ** 2,
          patience: 5,
        }),
      )
      .sort((a, b) => a.value - b.value)[0];
    if (!cheapest || rms(cheapest) > limitDb(cheapest)) break;
    current = cheapest;
  }
  return current;
}

/** A band of less gain is not worth a place, whatever it wins: nobody enters it. */
const FAINT_DB = 0.2;

/** The bank without its faint bands, the faintest first, the rest refined after each. */
export function withoutFaint(objective: Objective, full: Refined, bounds: Bounds): Refined {
  let current = full;
  for (;;) {
    const { types, values } = current.bands;
    const gains = Array.from(types.keys(), (i) => Math.abs(values[3 * i + 1]!));
    const least = Math.min(...gains);
    if (!(least < FAINT_DB)) return current;
    const rest = withoutBand(current.bands, gains.indexOf(least));
    current = refine(objective, rest, bounds, { maxIterations: 30, tolerance: 1e-4 });
  }
}

function cheapestRemovals(objective: Objective, current: Refined, count: number) {
  return Array.from(current.bands.types.keys())
    .map((index) => withoutBand(current.bands, index))
    .map((bands) => ({ bands, value: objectiveValue(objective, bands) }))
    .sort((a, b) => a.value - b.value)
    .slice(0, count)
    .map(({ bands }) => bands);
}
