import { type Bands, NO_BANDS } from '../bands.js';
import { type Refined, refine } from '../refine.js';
import { byValue, HOPELESS, isAllowed, NEVER_HOPELESS, type SearchSpace, THOROUGH } from '../searchSpace.js';
import { atomDictionary } from './atomDictionary.js';
import { type Atom, type Atoms, addForAWhile, createAtoms } from './atoms.js';
import { type AtomSet, exchangeSets } from './exchange.js';
import { wantedEq } from './wantedEq.js';

/** Gains in the linear model may lie beyond the bounds by so much: refinement brings them back. */
const BEYOND = 1.3;
/** A band's own shape is taken at this gain at least. */
const LEAST_GAIN_DB = 0.1;
/** One set in so many kicks is refined, and one more. */
const KICKS_PER_SET = 5;

/**
 * Banks to begin a search with: sets of atoms found by exchange (see exchange.ts), the best of them refined; then the
 * same once more from the best of those, its own bands among the atoms. Up to seven bands or so few other ways come as
 * far in the same time; the shapes of more bands are too coarse for it, but they lead elsewhere than growing.
 *
 * @param kicks of the exchange, times the number of bands
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
  const kicksHere = Math.round(kicks / Math.max(1, maxBands));
  const found = (start: readonly number[]) =>
    exchangeSets(
      atoms,
      {
        maxMembers: maxBands,
        kicks: kicksHere,
        keep: Math.round(kicksHere / KICKS_PER_SET) + 1,
        minGainDb: BEYOND * bounds.lower[1],
        maxGainDb: BEYOND * bounds.peakingUpper[1],
        isAllowed: (held) => isAllowed(space, { ...NO_BANDS, types: Uint8Array.from(held) }),
      },
      random,
      start,
    ).map((set) => bandsOf(atoms, set, space));
  const first = found([])
    .map((bands) => refine(objective, bands, bounds, THOROUGH))
    .sort(byValue);
  const best = first[0];
  if (!best) return [];
  tell(best);
  addForAWhile(atoms, atomsOf(best.bands));
  const own = Array.from(best.bands.types, (_, i) => atoms.inDictionary + i);
  const hopelessAbove = HOPELESS * best.value + NEVER_HOPELESS;
  const second = found(own).map((bands) =>
    refine(objective, bands, bounds, { ...THOROUGH, hopelessAbove, patience: 3 }),
  );
  return [...first, ...second].sort(byValue);
}

function atomsOf({ types, values }: Bands): Atom[] {
  return Array.from(types, (type, i) => {
    const [lnF, gainDb, lnQ] = values.subarray(3 * i, 3 * i + 3);
    return {
      type,
      lnF: lnF!,
      gainDb: Math.abs(gainDb!) < LEAST_GAIN_DB ? LEAST_GAIN_DB : gainDb!,
      lnQ: lnQ!,
    };
  });
}

function bandsOf({ list }: Atoms, { members, gainsDb }: AtomSet, { bounds }: SearchSpace): Bands {
  const held = members.map((k) => list[k]!);
  return {
    types: Uint8Array.from(held, ({ type }) => type),
    values: Float64Array.from(held.flatMap(({ lnF, lnQ }, i) => [lnF, within(gainsDb[i]!, bounds), lnQ])),
  };
}

const within = (gainDb: number, { lower, peakingUpper }: SearchSpace['bounds']) =>
  Math.min(Math.max(gainDb, lower[1]), peakingUpper[1]);
