import { type Bands, byFrequency } from '../../fit/bank/bands.js';
import type { Bounds } from '../../fit/bank/bounds.js';
import type { Objective } from '../../fit/objective/objective.js';
import { type Refined, refine } from '../../fit/refinement/refine.js';
import { type Atoms, addForAWhile, createAtoms } from '../../fit/search/exchange/atoms.js';
import { atomsOf, bandsOf } from '../../fit/search/exchange/atomsAndBands.js';
import { exchangeSets } from '../../fit/search/exchange/exchange.js';
import { pressedAtoms } from '../../fit/search/exchange/pressedAtoms.js';
import { wantedEq } from '../../fit/search/exchange/wantedEq.js';
import { frequencyAtoms } from './frequencyAtoms.js';
import { turnedShelves } from './turnedShelves.js';

/** What is searched where a device's frequencies lie far apart: those come from a list, gains and Qs are free. */
export interface FrequencySpace {
  readonly objective: Objective;
  readonly bounds: Bounds;
  /** Ascending natural logarithms. */
  readonly lnF: Float64Array;
  readonly types: readonly number[];
  readonly maxBands: number;
  readonly isAllowed: (types: readonly number[]) => boolean;
}

/** Kicks of the first exchange, and of each that follows: the linear model is soon made anew about a better bank. */
const FIRST_KICKS = 50;
const KICKS = 25;
/** Sets refined after each exchange, at most. */
const MOST_REFINED = 50;
/** Which of the banks known the exchanges begin from in turn, the best mostly. */
const RANKS = [0, 4, 0, 8, 0, 3, 0, 5, 0, 2, 0, 6];
/** The bands of so many of the best banks are atoms too, with the shapes that they have at their gains. */
const DONORS = 6;
/** An exchange may drift over ground this much worse, and gains lie so much beyond the bounds: refinement draws them in. */
const DRIFT = 1.2;
const BEYOND = 1.8;
const frequencyStays = (j: number) => j % 3 === 0;
const SETTLE = { maxIterations: 12, tolerance: 1e-3, frozen: frequencyStays, patience: 4 };
/** What is this far above the best bank after four steps, and by so many dB² more, is given up. */
const HOPELESS = 1.04;
const NEVER_HOPELESS = 0.01;

/**
 * Searches the frequencies of a device with gains and Qs free: sets of bands at those frequencies and a few Qs are
 * exchanged in a linear model (see `fit/search/exchange/exchange.ts`), in which they are exact, and the best refined;
 * again and again about what was found. From nothing, and from the bank given. A set of types and frequencies is refined
 * once only.
 *
 * @param start with frequencies of the list
 * @param kicks of all exchanges together
 * @param keep at most so many banks, each with other frequencies
 * @returns the best first
 */
export function searchFrequencies(
  space: FrequencySpace,
  start: Bands,
  kicks: number,
  keep: number,
  random: () => number,
): Refined[] {
  const { objective, bounds } = space;
  const tried = new Set<string>();
  let found: Refined[] = [];
  const tryOnce = (bands: Bands, best: number): boolean => {
    const key = frequenciesOf(bands);
    if (tried.has(key)) return false;
    tried.add(key);
    const hopelessAbove = best * HOPELESS + NEVER_HOPELESS;
    found.push(refine(objective, bands, bounds, { ...SETTLE, hopelessAbove }));
    return true;
  };
  tryOnce(start, Number.POSITIVE_INFINITY);
  const given = found.pop()!;
  const atoms = atomsIn(space);
  let from: Refined | undefined;
  for (let round = 0, left = kicks; left > 0; round++) {
    const kicksHere = Math.min(left, round === 0 ? FIRST_KICKS : KICKS);
    left -= kicksHere;
    let refined = 0;
    for (const bands of exchangedAbout(space, atoms, from, found.slice(0, DONORS), kicksHere, random)) {
      if (refined >= MOST_REFINED) break;
      const best = found.reduce((least, { value }) => Math.min(least, value), Number.POSITIVE_INFINITY);
      if (tryOnce(bands, best)) refined++;
    }
    if (round === 0) found.push(given);
    found = found.sort((a, b) => a.value - b.value).slice(0, MOST_KNOWN);
    from = round === 0 ? given : (found[RANKS[(round - 1) % RANKS.length]!] ?? found[0]!);
  }
  return (found.length > 0 ? found : [given]).slice(0, keep);
}

const MOST_KNOWN = 60;

function atomsIn({ objective, bounds, types, lnF, maxBands }: FrequencySpace): Atoms {
  const levelFree = objective.options.levelDb === undefined;
  const dictionary = frequencyAtoms(types, lnF, bounds);
  const room = (DONORS + 1) * maxBands;
  return createAtoms(dictionary, objective.grid, wantedEq(objective), levelFree, room);
}

/** Banks of the sets that an exchange finds, from a bank and under the limits that press on it, or from none. */
function exchangedAbout(
  { objective, bounds, maxBands, isAllowed }: FrequencySpace,
  atoms: Atoms,
  from: Refined | undefined,
  donors: readonly Refined[],
  kicks: number,
  random: () => number,
): Bands[] {
  const own = from ? atomsOf(from.bands) : [];
  addForAWhile(atoms, [...own, ...donors.flatMap(({ bands }) => (from ? atomsOf(bands) : []))]);
  const about = from ? pressedAtoms(atoms, objective, from.bands) : atoms;
  const options = {
    maxMembers: maxBands,
    kicks,
    keep: Number.POSITIVE_INFINITY,
    drift: DRIFT,
    minGainDb: BEYOND * bounds.peakingLower[1],
    maxGainDb: BEYOND * bounds.peakingUpper[1],
    isAllowed,
  };
  const ownPlaces = Array.from(own, (_, i) => atoms.inDictionary + i);
  return exchangeSets(about, options, random, ownPlaces).map((set) =>
    turnedShelves(objective, bounds, bandsOf(about, set, bounds), isAllowed),
  );
}

/** Types and frequencies of a bank as a key. */
function frequenciesOf(bands: Bands): string {
  return byFrequency(bands)
    .map((i) => `${bands.types[i]}:${bands.values[3 * i]!.toFixed(4)}`)
    .join(' ');
}
