import { type Bands, HIGH_SHELF, LOW_SHELF, PEAKING } from '../../fit/bank/bands.js';
import type { Bounds } from '../../fit/bank/bounds.js';
import type { Objective } from '../../fit/objective/objective.js';
import { objectiveValue } from '../../fit/refinement/objectiveValue.js';

/** Of more shelves only so many are turned. */
const MOST_TURNED = 3;

/**
 * A low shelf is a high shelf of the opposite gain and a constant on top, at the same frequency and Q, to the last digit.
 * So a bank has twins that leave the same error at another level, of which limits may allow one and forbid the other:
 * the one that the objective likes best.
 */
export function turnedShelves(
  objective: Objective,
  bounds: Bounds,
  bands: Bands,
  isAllowed: (types: readonly number[]) => boolean,
): Bands {
  const shelves = Array.from(bands.types.keys()).filter((i) => bands.types[i] !== PEAKING);
  if (shelves.length === 0 || objective.options.levelDb !== undefined) return bands;
  const turned = shelves.slice(0, MOST_TURNED);
  let best = bands;
  let least = objectiveValue(objective, bands);
  for (let choice = 1; choice < 1 << turned.length; choice++) {
    const twin = withTurned(
      bands,
      turned.filter((_, k) => (choice >> k) & 1),
    );
    if (!isWithin(twin, bounds) || !isAllowed(Array.from(twin.types))) continue;
    const value = objectiveValue(objective, twin);
    if (value < least) [best, least] = [twin, value];
  }
  return best;
}

function withTurned({ types, values }: Bands, places: readonly number[]): Bands {
  const next = { types: types.slice(), values: values.slice() };
  for (const i of places) {
    next.types[i] = types[i] === LOW_SHELF ? HIGH_SHELF : LOW_SHELF;
    next.values[3 * i + 1] = -values[3 * i + 1]!;
  }
  return next;
}

const isWithin = ({ values }: Bands, { shelfLower, shelfUpper }: Bounds) =>
  values.every((v, j) => j % 3 !== 1 || (v >= shelfLower[1] && v <= shelfUpper[1]));
