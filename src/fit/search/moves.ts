import {
  type Bands,
  byFrequency,
  HIGH_SHELF,
  isSame,
  NO_BANDS,
  PEAKING,
  pickBands,
  withBand,
  withoutBand,
} from '../bank/bands.js';
import { objectiveValue } from '../refinement/objectiveValue.js';
import type { Refined } from '../refinement/refine.js';
import { nearest, refineLocally, withNeighbours } from '../refinement/refineLocally.js';
import type { Candidate } from './dictionary.js';
import { byValue, insert, LOCAL, NEVER_HOPELESS, propose, type SearchSpace, tryBank } from './searchSpace.js';
import { nextSwap } from './swaps.js';

/** One step of a chain: another bank tried from the current one. */
export type Move = (space: SearchSpace, current: Refined, random: () => number) => Refined;

/** A move is dropped at once when, its new bands settled among their neighbours, it stands this far above. */
const HOPELESS_AT_ONCE = 1.6;
const SHARE_OF_DOUBLES = 0.4;

/**
 * The moves and how often each is drawn. None of them alone comes as far as all together: each gets stuck where
 * another still finds a way.
 */
const MOVES: readonly { readonly share: number; readonly move: Move }[] = [
  { share: 0.3, move: swap },
  { share: 0.28, move: reinsert },
  { share: 0.08, move: reinsertElsewhere },
  { share: 0.08, move: split },
  { share: 0.14, move: changeType },
  { share: 0.12, move: moveShelf },
];

export function drawMove(random: () => number): Move {
  let draw = random();
  for (const { share, move } of MOVES) {
    if (draw < share) return move;
    draw -= share;
  }
  return split;
}

/** One band in, another out, in the order of promise; when that list is at its end, at random. */
function swap(space: SearchSpace, current: Refined, random: () => number): Refined {
  return nextSwap(space, current) ?? insertAndDropCheapest(space, current, random);
}

/** Takes out one or two bands and puts them back where one of the largest remaining errors is. */
function reinsert(space: SearchSpace, current: Refined, random: () => number): Refined {
  let bands = takeOut(current.bands, random).rest;
  let settled: Refined | undefined;
  for (let missing = space.maxBands - bands.types.length; missing > 0; missing--) {
    const candidate = preferFirst(propose(space, bands, 4), 0.55, random);
    if (!candidate) break;
    bands = insert(bands, candidate);
    const moving = withNeighbours(bands, bands.types.length - 1, 1);
    settled = refineLocally(space.objective, bands, moving, space.bounds, LOCAL);
    bands = settled.bands;
  }
  if (settled && settled.value > current.value * HOPELESS_AT_ONCE + 2 * NEVER_HOPELESS) return settled;
  return tryUnlessSame(space, bands, current);
}

/** As `reinsert`, but the rest closes the gap first and the bands may not go back to where they were. */
function reinsertElsewhere(space: SearchSpace, current: Refined, random: () => number): Refined {
  const { rest, removed } = takeOut(current.bands, random);
  let bands = closeGap(space, rest, removed);
  let settled: Refined | undefined;
  for (let missing = space.maxBands - bands.types.length; missing > 0; missing--) {
    settled = preferFirst(settledInsertions(space, bands, removed), 0.7, random);
    if (!settled) break;
    bands = settled.bands;
  }
  if (settled && settled.value > current.value * HOPELESS_AT_ONCE + 2 * NEVER_HOPELESS) return settled;
  return tryUnlessSame(space, bands, current);
}

/** Puts in one or two bands more than allowed, then takes out the cheapest until the number is right again. */
function insertAndDropCheapest(space: SearchSpace, current: Refined, random: () => number): Refined {
  let { bands } = current;
  const count = random() < SHARE_OF_DOUBLES ? 2 : 1;
  for (let extra = 0; extra < count; extra++) {
    const settled = preferFirst(settledInsertions(space, bands, NO_BANDS), 0.7, random);
    if (!settled) break;
    bands = settled.bands;
  }
  let dropped: Refined | undefined;
  while (bands.types.length > space.maxBands) {
    dropped = dropCheapest(space, bands);
    bands = dropped.bands;
  }
  if (dropped && dropped.value > current.value * HOPELESS_AT_ONCE + 2 * NEVER_HOPELESS) return dropped;
  return tryUnlessSame(space, bands, current);
}

/** Puts a shelf somewhere else, or in place of any band. */
function moveShelf(space: SearchSpace, current: Refined, random: () => number): Refined {
  const shelves = space.types.filter((type) => type !== PEAKING);
  const type = shelves[Math.floor(random() * shelves.length)];
  if (type === undefined || current.bands.types.length === 0) return reinsert(space, current, random);
  const held = random() < 0.5 ? -1 : current.bands.types.indexOf(type);
  const out = held >= 0 ? held : Math.floor(random() * current.bands.types.length);
  const rest = withoutBand(current.bands, out);
  const candidate = preferFirst(
    propose(space, rest, 6, type).filter((one) => !resemblesBand(one, current.bands, out)),
    0.35,
    random,
  );
  if (!candidate) return current;
  const bands = insert(rest, candidate);
  const moving = new Set([
    ...withNeighbours(bands, bands.types.length - 1, 1),
    ...nearest(bands, current.bands.values[3 * out]!, 2),
  ]);
  const settled = refineLocally(space.objective, bands, [...moving], space.bounds, LOCAL);
  if (settled.value > current.value * HOPELESS_AT_ONCE + 2 * NEVER_HOPELESS) return settled;
  return tryUnlessSame(space, settled.bands, current);
}

function resemblesBand({ type, lnF }: Candidate, { types, values }: Bands, i: number): boolean {
  return types[i] === type && Math.abs(values[3 * i]! - lnF) < Math.LN2 / 2;
}

/** Turns one band into another type where it stands. */
function changeType(space: SearchSpace, current: Refined, random: () => number): Refined {
  const { bands } = current;
  const index = Math.floor(random() * bands.types.length);
  const others = space.types.filter((type) => type !== bands.types[index]);
  const type = others[Math.floor(random() * others.length)];
  if (type === undefined) return current;
  const values = bands.values.slice();
  const upsideDown = type === HIGH_SHELF && random() < 0.5;
  values[3 * index + 1]! *= upsideDown ? -0.5 : 0.5;
  const types = bands.types.map((old, i) => (i === index ? type : old));
  return tryUnlessSame(space, { types, values }, current);
}

/** What a split begins with: so many dB against each other, and Qs so many times apart. */
const SPLIT_DB = 2.5;
const LN_SPLIT_Q = Math.LN2;

/**
 * Gives up one band and makes two of another, of the same type in the same place, one up and one down: two shelves of
 * different Q give a slope with a bump on it, which no step of one band leads to.
 */
function split(space: SearchSpace, current: Refined, random: () => number): Refined {
  const count = current.bands.types.length;
  if (count < 2) return current;
  const twin = Math.floor(random() * count);
  const out = (twin + 1 + Math.floor(random() * (count - 1))) % count;
  const values = current.bands.values.slice();
  const [lnF, gainDb, lnQ] = values.subarray(3 * twin, 3 * twin + 3);
  const [upDb, lnWider] = [random() < 0.5 ? SPLIT_DB : -SPLIT_DB, random() < 0.5 ? LN_SPLIT_Q : -LN_SPLIT_Q];
  values[3 * twin + 1] = gainDb! + upDb;
  values[3 * twin + 2] = lnQ! - lnWider;
  const { types } = current.bands;
  const both = withBand({ types, values }, types[twin]!, lnF!, -upDb, lnQ! + lnWider);
  return tryUnlessSame(space, withoutBand(both, out), current);
}

function tryUnlessSame(space: SearchSpace, bands: Bands, current: Refined): Refined {
  if (isSame(bands, current.bands)) return current;
  return tryBank(space, bands, current.value);
}

/**
 * The bank with one more band, for each of the most promising ones, settled among its neighbours; the best first.
 * What was just taken out is not put back where it was.
 */
function settledInsertions(space: SearchSpace, bands: Bands, removed: Bands): Refined[] {
  return propose(space, bands, 6)
    .filter((candidate) => !resembles(candidate, removed))
    .slice(0, 3)
    .map((candidate) => {
      const bank = insert(bands, candidate);
      const moving = withNeighbours(bank, bank.types.length - 1, 1);
      return refineLocally(space.objective, bank, moving, space.bounds, LOCAL);
    })
    .sort(byValue);
}

function resembles({ type, lnF, gainDb }: Candidate, removed: Bands): boolean {
  return Array.from(removed.types.keys()).some(
    (i) =>
      removed.types[i] === type &&
      (type !== PEAKING || Math.abs(removed.values[3 * i]! - lnF) < Math.LN2 / 4) &&
      removed.values[3 * i + 1]! * gainDb > 0,
  );
}

/** The bank without the band that its neighbours can best do without. */
export function dropCheapest(space: SearchSpace, bands: Bands): Refined {
  const removals = Array.from(bands.types.keys()).map((index) => {
    const rest = withoutBand(bands, index);
    return { rest, lnF: bands.values[3 * index]!, value: objectiveValue(space.objective, rest) };
  });
  return removals
    .sort((a, b) => a.value - b.value)
    .slice(0, 4)
    .map(({ rest, lnF }) => refineLocally(space.objective, rest, nearest(rest, lnF, 2), space.bounds, LOCAL))
    .sort(byValue)[0]!;
}

/** The neighbours of what was taken out fill in as well as they can. */
function closeGap(space: SearchSpace, rest: Bands, removed: Bands): Bands {
  let bands = rest;
  for (let i = 0; i < removed.types.length && rest.types.length > 0; i++) {
    const moving = nearest(bands, removed.values[3 * i]!, 2);
    bands = refineLocally(space.objective, bands, moving, space.bounds, LOCAL).bands;
  }
  return bands;
}

/** One band or two; of two, half the time neighbours in frequency. */
function takeOut(bands: Bands, random: () => number): { rest: Bands; removed: Bands } {
  const n = bands.types.length;
  if (n === 0) return { rest: bands, removed: bands };
  const order = byFrequency(bands);
  const double = n > 2 && random() < SHARE_OF_DOUBLES;
  const first = Math.floor(random() * n);
  const gap = double ? (random() < 0.5 ? 1 : 1 + Math.floor(random() * (n - 1))) : 0;
  const taken = Array.from(new Set([order[first]!, order[(first + gap) % n]!])).sort((a, b) => b - a);
  return { rest: taken.reduce(withoutBand, bands), removed: pickBands(bands, taken) };
}

/** The first of a list with probability `share`, else the second with the same, and so on. */
function preferFirst<T>(list: readonly T[], share: number, random: () => number): T | undefined {
  for (const item of list) if (random() < share) return item;
  return list[0];
}
