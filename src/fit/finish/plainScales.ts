import type { Bands } from '../bank/bands.js';
import type { Charge } from '../objective/gainCharge.js';
import { type Opposition, opposition } from '../objective/opposition.js';
import type { FitGrid } from '../problem/fitGrid.js';

/** A bank with what its bands do against each other. */
export interface WeighedBank {
  readonly bands: Bands;
  readonly value: number;
  readonly against: Opposition;
  /** What held its gains down while it was refined. */
  readonly charge?: Charge;
}

/** What banks are held against: the best one, and how much more a plainer one may leave. */
export interface PlainScales {
  /** RMS error of the best bank, dB. */
  readonly leastDb: number;
  readonly allowanceDb: number;
  /** Squared error, dB², that the objective's grid does not show. */
  readonly unseen: number;
}

/** A plainer bank may leave so much more of the RMS error, or so many dB if that is more; a dB of opposition is worth as much. */
const MORE_SHARE = 0.01;
const MORE_DB = 0.001;

/** How much more of an RMS error, dB, a plainer bank may leave. */
export function allowanceDb(rmsDb: number, share = MORE_SHARE): number {
  return Math.max(share * rmsDb, MORE_DB);
}

/**
 * @param least value of the best bank, dB²
 * @param options.unseen squared error, dB², that the objective's grid does not show
 * @param options.share of the RMS error that a plainer bank may leave on top
 */
export function plainScales(
  least: number,
  { unseen = 0, share }: { readonly unseen?: number; readonly share?: number } = {},
): PlainScales {
  const leastDb = Math.sqrt(least + unseen);
  return { leastDb, allowanceDb: allowanceDb(leastDb, share), unseen };
}

export function weighBank(grid: FitGrid, bands: Bands, value: number, charge?: Charge): WeighedBank {
  return { bands, value, against: opposition(grid, bands), ...(charge && { charge }) };
}

/** What a bank leaves above the best, in allowances. */
export function paid({ leastDb, allowanceDb, unseen }: PlainScales, value: number): number {
  return (Math.sqrt(Math.max(0, value + unseen)) - leastDb) / allowanceDb;
}

/** The value of a bank that has paid so many allowances. */
export function valueAt({ leastDb, allowanceDb, unseen }: PlainScales, allowances: number): number {
  return (leastDb + allowances * allowanceDb) ** 2 - unseen;
}

/** What a dB of opposition costs, dB², where the best bank stands. */
export function weightOfOpposition({ leastDb, allowanceDb }: PlainScales): number {
  return 2 * leastDb * allowanceDb;
}

/** Banks that cost least in error and opposition together first. */
export function inOrder<T extends WeighedBank>(scales: PlainScales, banks: readonly T[]): T[] {
  const price = ({ value, against }: T) => Math.max(0, paid(scales, value)) + against.db;
  return [...banks].sort((a, b) => price(a) - price(b));
}

/** Those within the allowance, in order. */
export function affordable<T extends WeighedBank>(scales: PlainScales, banks: readonly T[]): T[] {
  return inOrder(
    scales,
    banks.filter(({ value }) => paid(scales, value) <= 1),
  );
}

/** The one that costs least of those within the allowance; the first where there is none. */
export function plainest<T extends WeighedBank>(scales: PlainScales, banks: readonly T[]): T {
  return affordable(scales, banks)[0] ?? banks[0]!;
}
