import { type Bands, byFrequency, pickBands } from '../bank/bands.js';
import type { Bounds } from '../bank/bounds.js';
import type { Objective } from '../objective/objective.js';
import { objectiveValue } from './objectiveValue.js';
import { type Refined, type RefineOptions, refine } from './refine.js';

/**
 * Refines the bands at `moving` while the others stand still. With three of ten moving it costs about a tenth of a
 * refinement of all, which makes it cheap to see where a new band would settle.
 */
export function refineLocally(
  objective: Objective,
  bands: Bands,
  moving: readonly number[],
  bounds: Bounds,
  options: RefineOptions,
): Refined {
  const still: number[] = [];
  for (let i = 0; i < bands.types.length; i++) if (!moving.includes(i)) still.push(i);
  const { backgroundDb, eqDb } = objective;
  objectiveValue(objective, pickBands(bands, still));
  backgroundDb.set(eqDb);
  const local = refine(objective, pickBands(bands, moving), bounds, options);
  backgroundDb.fill(0);
  const values = bands.values.slice();
  moving.forEach((i, k) => {
    values.set(local.bands.values.subarray(3 * k, 3 * k + 3), 3 * i);
  });
  return { ...local, bands: { types: bands.types, values } };
}

/** The band itself and its nearest neighbours in frequency, `count` on either side. */
export function withNeighbours(bands: Bands, index: number, count: number): number[] {
  const order = byFrequency(bands);
  const at = order.indexOf(index);
  return order.slice(Math.max(0, at - count), at + count + 1);
}

/** The `count` bands nearest to ln f = `lnF`. */
export function nearest(bands: Bands, lnF: number, count: number): number[] {
  const distance = (i: number) => Math.abs(bands.values[3 * i]! - lnF);
  return Array.from(bands.types.keys())
    .sort((a, b) => distance(a) - distance(b))
    .slice(0, count);
}
