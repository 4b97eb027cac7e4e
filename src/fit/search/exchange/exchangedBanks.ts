import { type Refined, refine } from '../../refinement/refine.js';
import { byValue, isAllowed, type SearchSpace, THOROUGH, tryBank } from '../searchSpace.js';
import { atomDictionary } from './atomDictionary.js';
import { addForAWhile, createAtoms } from './atoms.js';
import { atomsOf, bandsOf } from './atomsAndBands.js';
import { exchangeSets } from './exchange.js';
import { wantedEq } from './wantedEq.js';

/** Gains in the linear model may lie beyond the bounds by so much: refinement brings them back. */
const BEYOND = 1.3;
/** With fewer than five bands more kicks find nothing more. */
const LEAST_SQUARE = 25;
/** One set in so many kicks is refined, and one more. */
const KICKS_PER_SET = 5;

/**
 * Banks to begin a search with: sets of atoms found by exchange (see exchange.ts), the best of them refined; then the
 * same once more from the best of those, its own bands among the atoms. Up to six bands or so few other ways come as
 * far in the same time; the shapes of more bands are too coarse for it, but they lead elsewhere than growing.
 *
 * @param kicks of each exchange, times the square of the number of bands: kicks with few bands cost little and find much
 * @param tell told of the best of the first sets as soon as it is there
 * @returns the best first; none where no band is allowed
 */
export function exchangedBanks(
  space: SearchSpace,
  kicks: number,
  random: () => number,
  tell: (bank: Refined) => void = () => {},
): Refined[] {
  const { objective, bounds, maxBands, types } = space;
  const { grid, options } = objective;
  const dictionary = atomDictionary(types, grid, bounds);
  const levelFree = options.levelDb === undefined;
  const atoms = createAtoms(dictionary, grid, wantedEq(objective), levelFree, maxBands);
  const kicksHere = Math.round(kicks / Math.max(LEAST_SQUARE, maxBands ** 2));
  const found = (start: readonly number[]) =>
    exchangeSets(
      atoms,
      {
        maxMembers: maxBands,
        kicks: kicksHere,
        keep: Math.round(kicksHere / KICKS_PER_SET) + 1,
        minGainDb: BEYOND * bounds.peakingLower[1],
        maxGainDb: BEYOND * bounds.peakingUpper[1],
        isAllowed: (held) => isAllowed(space, { types: held }),
      },
      random,
      start,
    ).map((set) => bandsOf(atoms, set, bounds));
  const first = found([])
    .map((bands) => refine(objective, bands, bounds, THOROUGH))
    .sort(byValue);
  const best = first[0];
  if (!best) return [];
  tell(best);
  addForAWhile(atoms, atomsOf(best.bands));
  const own = Array.from(best.bands.types, (_, i) => atoms.inDictionary + i);
  const second = found(own).map((bands) => tryBank(space, bands, best.value));
  return [...first, ...second].sort(byValue);
}
