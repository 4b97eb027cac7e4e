import { HIGH_SHELF, LOW_SHELF, PEAKING } from '../bank/bands.js';
import { type Refined, refine } from '../refinement/refine.js';
import { type ByChance, grow, withShelves } from './grow.js';
import { dropCheapest } from './moves.js';
import { SETTLE, type SearchSpace, THOROUGH } from './searchSpace.js';

/** How a bank begins to grow. */
interface Beginning {
  /** The one kind its bands are of; all there are where absent. */
  readonly only?: number;
  /** The shelves it begins with. */
  readonly shelves: readonly number[];
  /** Bands too many that it grows to, before the cheapest go again; no more than are allowed. */
  readonly tooMany?: number;
}

/** The most bands that a growing bank holds for a while beyond those allowed. */
export const MOST_TOO_MANY = 4;

/**
 * The wrong beginning can double the error, and none of them wins always: banks of different make come of them. The first
 * is held to peaking bands, since sharp shelves imitate pairs of peaks and are hard to leave where peaks alone would fit
 * exactly; the second to shelves of one kind, since a staircase of them is out of reach once peaks stand in its place.
 */
const BEGINNINGS: readonly Beginning[] = [
  { only: PEAKING, shelves: [] },
  { only: LOW_SHELF, shelves: [] },
  { shelves: [HIGH_SHELF], tooMany: MOST_TOO_MANY },
  { shelves: [LOW_SHELF, HIGH_SHELF] },
];

/** Later ones take whatever helps most, partly by chance. */
const BY_CHANCE: readonly Beginning[] = [[], [LOW_SHELF], [HIGH_SHELF], [LOW_SHELF, HIGH_SHELF]].map(
  (shelves) => ({ shelves }),
);
/** The share of choices in which the better of two ways to grow on is taken; else the next one. */
const PREFER_BETTER = 0.6;

/** What banks can grow from where only some kinds of bands may be used. */
export interface Beginnings {
  readonly count: number;
  /** The bank that comes of the beginning number `round`; from `count` on by chance. */
  readonly grown: (round: number) => Refined;
}

export function beginningsIn(
  space: SearchSpace,
  random: () => number,
  isEnough: (bank: Refined) => boolean,
): Beginnings {
  const canBegin = ({ only, shelves }: Beginning) =>
    shelves.every((kind) => space.types.includes(kind)) && (only === undefined || space.types.includes(only));
  const possible = BEGINNINGS.filter(canBegin);
  const later = BY_CHANCE.filter(canBegin);
  // Of no kinds at all, too, a bank of no bands has to come.
  const first = possible.length > 0 ? possible : later.slice(0, 1);
  return {
    count: first.length,
    grown: (round) => {
      const beginning = first[round];
      if (beginning) return grownFrom(space, beginning, isEnough);
      return grownFrom(space, later[Math.floor(random() * later.length)]!, isEnough, {
        preferBetter: PREFER_BETTER,
        random,
      });
    },
  };
}

function grownFrom(
  space: SearchSpace,
  { only, shelves, tooMany = 0 }: Beginning,
  isEnough: (bank: Refined) => boolean,
  chance?: ByChance,
): Refined {
  const kinds = only === undefined ? space : { ...space, types: [only] };
  const wider = { ...kinds, maxBands: space.maxBands + Math.min(tooMany, space.maxBands) };
  let bank = grow(wider, withShelves(kinds, shelves, chance), isEnough, chance);
  while (bank.bands.types.length > space.maxBands) {
    const last = bank.bands.types.length === space.maxBands + 1;
    bank = refine(
      space.objective,
      dropCheapest(space, bank.bands).bands,
      space.bounds,
      last ? THOROUGH : SETTLE,
    );
  }
  return bank;
}
