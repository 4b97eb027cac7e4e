import { type Bands, withoutBand } from './bands.js';
import { asFlanks } from './flanks.js';
import { type Charge, opposedCharge } from './gainCharge.js';
import { objectiveValue } from './objectiveValue.js';
import { type Opposition, opposedDb, opposition } from './opposition.js';
import { type Refined, refine } from './refine.js';
import { insert, isAllowed, propose, type SearchSpace } from './searchSpace.js';

/** A bank with what its bands do against each other. */
export interface Weighed {
  readonly bands: Bands;
  readonly value: number;
  readonly against: Opposition;
  /** What held its gains down while it was refined. */
  readonly charge?: Charge;
}

/** A plainer bank may leave so much more of the RMS error, or so many dB if that is more; a dB of opposition is worth as much. */
const MORE_SHARE = 0.01;
const MORE_DB = 0.001;
/** The first of these charges is half of what opposition is worth; beyond, it leads where a bank would not go by itself. */
const CHARGES = [0.5, 1, 2, 4];
const CHARGES_OF_REPLACED = [1];
const CHARGES_AT_LAST = [0.5, 1];
const UNDER_CHARGE = { maxIterations: 6, tolerance: 1e-4 };
const REPLACED = { maxIterations: 12, tolerance: 1e-3, patience: 4 };
/** Banks that are charged, bands that are replaced, what they are replaced by, and banks that are given back. */
const STARTS = 3;
const PAIRS = 2;
const PROPOSALS = 2;
const GIVEN_BACK = 3;
/** Pairs that cancel less are nothing to mend. */
const WORTH_MENDING_DB = 0.3;
/** A bank this many times the allowance above the best may come back within it, and one that stands there early on. */
const MAY_COME_BACK = 2;
const HOPELESS = 6;

/** How much more of an RMS error, dB, a plainer bank may leave. */
export function allowanceDb(rmsDb: number): number {
  return Math.max(MORE_SHARE * rmsDb, MORE_DB);
}

/** By what banks are held against each other. */
class Scales {
  readonly #leastDb: number;
  readonly #allowanceDb: number;

  /**
   * @param least value that a plainer bank is held against, dB²
   * @param unseen squared error, dB², that the objective's grid does not show
   */
  constructor(
    readonly space: SearchSpace,
    least: number,
    readonly unseen = 0,
  ) {
    this.#leastDb = Math.sqrt(least + unseen);
    this.#allowanceDb = allowanceDb(this.#leastDb);
  }

  weigh(bands: Bands, value: number, charge?: Charge): Weighed {
    const against = opposition(this.space.objective.grid, bands);
    return { bands, value, against, ...(charge && { charge }) };
  }

  /** What a bank leaves above the best, in allowances. */
  paid(value: number): number {
    return (Math.sqrt(Math.max(0, value + this.unseen)) - this.#leastDb) / this.#allowanceDb;
  }

  price({ value, against }: Weighed): number {
    return Math.max(0, this.paid(value)) + against.db;
  }

  /** The one that costs least of those within the allowance; the first where there is none. */
  plainest(banks: readonly Weighed[]): Weighed {
    const within = banks.filter(({ value }) => this.paid(value) <= 1);
    return [...within].reduce((a, b) => (this.price(b) < this.price(a) ? b : a), within[0] ?? banks[0]!);
  }

  inOrder(banks: readonly Weighed[]): Weighed[] {
    return [...banks].sort((a, b) => this.price(a) - this.price(b));
  }

  /** What a dB of opposition costs, dB², where the best bank stands. */
  get weight(): number {
    return 2 * this.#leastDb * this.#allowanceDb;
  }

  valueAt(allowances: number): number {
    return (this.#leastDb + allowances * this.#allowanceDb) ** 2 - this.unseen;
  }
}

/**
 * Banks that leave hardly more than the best and whose bands work less against each other, the best first: those that the
 * search has found anyway, the same with a growing charge on opposed gains, and with one of an opposed pair replaced.
 *
 * @param settled banks at rest, the best first
 * @param unseen squared error, dB², that the grid does not show
 */
export function plainerBanks(space: SearchSpace, settled: readonly Refined[], unseen: number): Weighed[] {
  const scales = new Scales(space, settled[0]!.value, unseen);
  const near = settled
    .filter(({ value }) => scales.paid(value) <= MAY_COME_BACK)
    .map(({ bands, value }) => scales.weigh(bands, value));
  const charged = scales
    .inOrder(near)
    .slice(0, STARTS)
    .map((start) => underCharge(scales, start, CHARGES));
  const found = [...charged, ...replacements(scales, scales.plainest(charged))];
  return scales.inOrder(found.filter(({ value }) => scales.paid(value) <= 1)).slice(0, GIVEN_BACK);
}

/**
 * The plainest of them and of the best bank itself on another grid; undefined where that is the best bank.
 *
 * @param space with an objective on that grid
 */
export function plainestOf(
  space: SearchSpace,
  best: Refined,
  banks: readonly Weighed[],
): Weighed | undefined {
  const { objective, bounds } = space;
  const scales = new Scales(space, best.value);
  const itself = scales.weigh(best.bands, best.value);
  const moved = banks.map(({ bands, charge }) => {
    const there = refine(objective, bands, bounds, { ...UNDER_CHARGE, ...(charge && { charge }) });
    return scales.weigh(there.bands, objectiveValue(objective, there.bands), charge);
  });
  const plainest = underCharge(scales, scales.plainest([itself, ...moved]), CHARGES_AT_LAST);
  return plainest === itself ? undefined : plainest;
}

/** The plainest on the way of a bank under one charge after the other. */
function underCharge(scales: Scales, start: Weighed, charges: readonly number[]): Weighed {
  const { objective, bounds } = scales.space;
  const way = [start];
  for (const part of charges) {
    const { bands, against } = way.at(-1)!;
    const charge = opposedCharge(against, bands, part * scales.weight);
    const next = refine(objective, bands, bounds, { ...UNDER_CHARGE, charge });
    const value = objectiveValue(objective, next.bands);
    way.push(scales.weigh(next.bands, value, charge));
    if (scales.paid(value) > 1) break;
  }
  return scales.plainest(way);
}

/** The bank with one band of its most opposed pairs put elsewhere. */
function replacements(scales: Scales, from: Weighed): Weighed[] {
  const { space } = scales;
  const pairs = from.against.pairs
    .filter((pair) => opposedDb(pair) > WORTH_MENDING_DB)
    .sort((a, b) => opposedDb(b) - opposedDb(a))
    .slice(0, PAIRS);
  const instead = pairs.flatMap(({ bands: pair }) => [
    ...pair.flatMap((index) => {
      const rest = withoutBand(from.bands, index);
      return propose(space, rest, PROPOSALS).map((candidate) => insert(rest, candidate));
    }),
    ...asFlanks(space, from.bands, pair),
  ]);
  return instead
    .filter((bands) => isAllowed(space, bands))
    .flatMap((bands) => {
      const hopelessAbove = scales.valueAt(HOPELESS);
      const tried = refine(space.objective, bands, space.bounds, { ...REPLACED, hopelessAbove });
      if (scales.paid(tried.value) > MAY_COME_BACK) return [];
      return [underCharge(scales, scales.weigh(tried.bands, tried.value), CHARGES_OF_REPLACED)];
    });
}
