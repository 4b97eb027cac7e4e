import { pow } from '../../elementary/power.js';
import { isSame, PEAKING } from '../bank/bands.js';
import { squaredError } from '../objective/objective.js';
import { objectiveValue } from '../refinement/objectiveValue.js';
import type { Refined } from '../refinement/refine.js';
import { beginningsIn } from './beginnings.js';
import { exchangedBanks } from './exchange/exchangedBanks.js';
import { type LeastLeaning, withLeastLeaning } from './leaning.js';
import { drawMove } from './moves.js';
import { byValue, isAllowed, NEVER_HOPELESS, type SearchSpace } from './searchSpace.js';
import { bestSplice, newSplicing, type Splicing } from './splices.js';

export interface SearchEffort {
  /** Banks that are grown in any case, each from another beginning; more are grown as long as there are moves left. */
  readonly starts?: number;
  /** Moves tried for each band that counts, over the banks together; growing a bank counts as some of them. */
  readonly hopsPerBand: number;
  /** Kicks times the square of the bands of the exchange that the search begins with (see exchange/exchangedBanks.ts); none where absent. */
  readonly kicks?: number;
  /** Points per octave of the search's grid; the finish takes all there are. */
  readonly pointsPerOctave: number;
  /** Banks that are brought to the full grid at the end. */
  readonly finalists: number;
}

/** A chain may drift over ground this little worse: the optima are flat. */
const DRIFT = 1.003;
/** Squared error, dB², below which nothing is left to be won: a hundredth of a dB. */
const PERFECT = 1e-4;

/** What growing a bank costs, in moves per band. */
const COST_OF_GROWTH = 1.2;
/** Moves per band for the first bank, for each one after it, and for the best of all after each of those. */
const MOVES_FOR_FIRST = 4;
const MOVES_FOR_FRESH = 1;
const MOVES_FOR_BEST = 2;
/** How many chains are kept, and how many of their best banks take pieces of others. */
const KEPT = 6;
const BASES = 3;
const SPLICES_IN_A_ROW = 2;
/** How many of the banks that moves ended in are kept for their pieces, and how far above the best they may stand. */
const MOST_PARTNERS = 16;
const WORTH_KEEPING = 1.4;
/** For more bands the shapes of the exchange are too coarse: its banks, alike as they are, crowd out better beginnings. */
const MOST_TO_EXCHANGE = 6;

/** A chain of moves: where it stands, and the best bank on its way. */
interface Chain {
  current: Refined;
  best: Refined;
}

/**
 * Grows a few banks (see beginnings.ts), finds others by exchange (see exchange/), improves each a little by moves (see
 * moves.ts), grows more, and splices the best of them with all that was met on the way (see splices.ts): what is good
 * here in one and there in another comes together. The best goes on by moves of its own in between.
 *
 * @param onBetter told of every bank that is better than those before
 * @returns the best banks, the best first, and those that lean least on the limits
 */
export function searchBanks(
  space: SearchSpace,
  effort: SearchEffort,
  random: () => number,
  onBetter: (bank: Refined) => void = () => {},
): Refined[] {
  const { maxBands, types } = space;
  const { count, grown: growFrom } = beginningsIn(space, random, (bank) => isPerfect(space, bank));
  const starts = effort.starts ?? count;
  const peaksOnly = types.includes(PEAKING) ? { ...space, types: [PEAKING] } : space;
  let record = Number.POSITIVE_INFINITY;
  let movesLeft = maxBands === 0 ? 0 : effort.hopsPerBand * bandsThatCount(maxBands);
  let pool: Chain[] = [];
  const past: Past = { partners: [], splicing: newSplicing(), leastLeaning: [] };
  const tell = (bank: Refined) => {
    if (bank.value >= record) return;
    record = bank.value;
    onBetter(bank);
  };
  const run = (where: SearchSpace, chain: Chain, movesPerBand: number) => {
    const moves = Math.min(movesLeft, movesPerBand * maxBands);
    for (let move = 0; move < moves; move++) {
      advance(where, chain, random, past);
      tell(chain.best);
    }
    movesLeft -= moves;
  };
  // Before all else, for whoever waits for a first bank: growing one takes a few milliseconds.
  const beginnings: Refined[] = [];
  for (let round = 0; round < Math.min(starts, count); round++) {
    const grown = growFrom(round);
    tell(grown);
    if (isPerfect(space, grown)) return [grown];
    beginnings.push(grown);
  }
  if (effort.kicks !== undefined && maxBands > 0 && maxBands <= MOST_TO_EXCHANGE) {
    const banks = exchangedBanks(space, effort.kicks, random, tell);
    const best = banks[0];
    if (best && isPerfect(space, best)) return [best];
    if (best) tell(best);
    for (const bank of banks) {
      meet(space, past, bank);
      note(past, bank, record);
      pool = withChain(pool, { current: bank, best: bank });
    }
  }
  // The first moves go to the best: whoever waits for a good bank has it sooner.
  const [ofPeaks] = beginnings;
  beginnings.sort(byValue);
  for (let round = 0; round < starts || movesLeft > 0; round++) {
    const grown = beginnings[round] ?? growFrom(round);
    tell(grown);
    if (isPerfect(space, grown)) return [grown];
    meet(space, past, grown);
    if (round > 0) movesLeft = Math.max(0, movesLeft - COST_OF_GROWTH * maxBands);
    const chain = { current: grown, best: grown };
    run(grown === ofPeaks ? peaksOnly : space, chain, round === 0 ? MOVES_FOR_FIRST : MOVES_FOR_FRESH);
    pool = withChain(pool, chain);
    if (effort.hopsPerBand > 0) {
      pool = spliced(space, pool, past);
      for (let part = 0; part < MOVES_FOR_BEST && round > 0; part++) {
        run(space, pool[0]!, 1);
        pool = spliced(space, pool.sort(byBest), past);
      }
      pool.sort(byBest);
      tell(pool[0]!.best);
    }
    if (isPerfect(space, pool[0]!.best)) break;
  }
  const ends = pool.map(({ best }) => best);
  const others = past.leastLeaning.map(({ bank }) => bank);
  return [...ends, ...others.filter((one) => !ends.some((end) => isSame(end.bands, one.bands)))];
}

const byBest = (a: Chain, b: Chain) => byValue(a.best, b.best);

/** The pool with one chain more, unless it has one that ended in the same place; the best ones are kept. */
function withChain(pool: readonly Chain[], chain: Chain): Chain[] {
  const isKnown = pool.some(({ best }) => isSame(best.bands, chain.best.bands));
  return isKnown ? [...pool] : [...pool, chain].sort(byBest).slice(0, KEPT);
}

/** Banks met on the way that may be good in parts, and what became of their pieces. */
interface Past {
  partners: readonly Refined[];
  leastLeaning: LeastLeaning;
  readonly splicing: Splicing;
}

/** The pool with what splicing its banks gives, as long as that betters the best. */
function spliced(space: SearchSpace, start: readonly Chain[], past: Past): Chain[] {
  let pool = [...start];
  for (let pass = 0; pass < SPLICES_IN_A_ROW; pass++) {
    const banks = pool.map(({ best }) => best);
    const child = bestSplice(space, banks.slice(0, BASES), [...banks, ...past.partners], past.splicing);
    if (!child) break;
    meet(space, past, child);
    note(past, child, banks[0]!.value);
    if (child.value >= banks[0]!.value) break;
    pool = withChain(pool, { current: child, best: child });
  }
  return pool;
}

function meet(space: SearchSpace, past: Past, bank: Refined): void {
  past.leastLeaning = withLeastLeaning(space, past.leastLeaning, bank);
}

function note(past: Past, bank: Refined, record: number): void {
  if (bank.value > record * WORTH_KEEPING + NEVER_HOPELESS / 8) return;
  if (past.partners.some((other) => isSame(other.bands, bank.bands))) return;
  past.partners = [...past.partners, bank].sort(byValue).slice(0, MOST_PARTNERS);
}

function advance(space: SearchSpace, chain: Chain, random: () => number, past: Past): void {
  const tried = drawMove(random)(space, chain.current, random);
  if (!isAllowed(space, tried.bands)) return;
  if (tried.value < chain.current.value * DRIFT) chain.current = tried;
  meet(space, past, tried);
  if (tried.value < chain.best.value) chain.best = tried;
  else note(past, tried, chain.best.value);
}

/** For how many bands there are moves where the exchange has been before them … */
const BESIDE_EXCHANGE = 31;
/** … for ten, which are to be had in a tenth of a second … */
const AT_TEN = 8.2;
/** … and else by what power of how far they are from ten, with fewer and with more. */
const WITH_FEWER = 4.5;
const WITH_MORE = 3.4;

/**
 * For how many bands there are moves: most for seven, where one wrong band is much and a move takes little, and for many,
 * where there is most to try.
 */
function bandsThatCount(bands: number): number {
  if (bands <= MOST_TO_EXCHANGE) return BESIDE_EXCHANGE;
  return AT_TEN * (bands < 10 ? pow(10 / bands, WITH_FEWER) : pow(bands / 10, WITH_MORE));
}

function isPerfect({ objective }: SearchSpace, { bands, value }: Refined): boolean {
  if (value > 100 * PERFECT) return false;
  objectiveValue(objective, bands);
  return squaredError(objective) < PERFECT;
}
