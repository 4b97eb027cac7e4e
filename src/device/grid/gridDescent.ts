import { log2 } from '../../elementary/logarithm.js';
import type { BandTable, GridBand } from './bandTable.js';
import { costOf, costWith, type GridCost, type GridRest, restOf } from './gridCost.js';

/** What a bank is sought in. */
export interface GridSpace {
  readonly table: BandTable;
  readonly cost: GridCost;
  readonly maxBands: number;
  /** Steps of a single number, in places of its list: few where the start is near the end. */
  readonly moves: readonly GridMove[];
  /** Whether the device has a place for each of these bands. */
  readonly isAllowed: (bands: readonly GridBand[]) => boolean;
}

/** A bank on the grid with the value of its objective. */
export interface GridBank {
  readonly bands: readonly GridBand[];
  readonly value: number;
}

/** What a value has to be below to be less: the rest is rounding, and a search that follows it never ends. */
export function lessThan(value: number): number {
  return value * (1 - 1e-7) - 1e-9;
}

/** Steps of frequency, gain and Q, in places of their lists. */
type GridMove = readonly [number, number, number];

/** Far moves of single numbers and near ones of two or three. */
export const WIDE_MOVES = movesOf([1, 2, 3, 4, 6, 8, 12, 16, 24, 32, 48, 64], [1, 2, 4, 8]);
/** What is left to do after a search with fewer choices. */
export const NEAR_MOVES = movesOf([1, 2, 4, 8, 16, 32, 64], [1, 2]);

function movesOf(single: readonly number[], qs: readonly number[]): GridMove[] {
  const both = (steps: readonly number[]) => steps.flatMap((n) => [n, -n]);
  const alone = both(single).flatMap((n): GridMove[] => [
    [n, 0, 0],
    [0, n, 0],
    [0, 0, n],
  ]);
  const together = [-1, 0, 1].flatMap((f) =>
    [-2, -1, 0, 1, 2].flatMap((g) => [0, ...both(qs)].map((q): GridMove => [f, g, q])),
  );
  return [...alone, ...together.filter((move) => move.filter((n) => n !== 0).length > 1)];
}

/** Moves of each of two bands that are tried together. */
const TOGETHER: readonly GridMove[] = [-1, 0, 1].flatMap((f) =>
  [-1, 0, 1].flatMap((g) => [-3, -1, 0, 1, 3].map((q) => [f, g, q] as const)),
);

const moved = (band: GridBand, [f, g, q]: GridMove): GridBand => ({
  type: band.type,
  frequency: band.frequency + f,
  gain: band.gain + g,
  q: band.q + q,
});

/** All bands but those left out. */
export function restBeside(
  { cost, table }: GridSpace,
  bands: readonly GridBand[],
  leftOut: readonly number[] = [],
): GridRest {
  const sumDb = cost.startDb.slice();
  bands.forEach((band, i) => {
    if (!leftOut.includes(i)) addTo(sumDb, table.responseOf(band)!.responseDb);
  });
  return restOf(cost, sumDb);
}

function addTo(sum: Float64Array, responseDb: Float32Array): void {
  for (let p = 0; p < sum.length; p++) sum[p]! += responseDb[p]!;
}

function bankCost(space: GridSpace, bands: readonly GridBand[]): number {
  return costOf(space.cost, restBeside(space, bands));
}

/**
 * The best band near `start` beside others that stay.
 *
 * @param canBe whether the device has a place for such a band beside the others
 */
export function descendBand(
  { table, cost, moves }: GridSpace,
  rest: GridRest,
  start: GridBand,
  canBe: (band: GridBand) => boolean,
): { readonly band: GridBand; readonly value: number } {
  const response = table.responseOf(start);
  let band = start;
  let value = response ? costWith(cost, rest, response, Number.POSITIVE_INFINITY) : Number.POSITIVE_INFINITY;
  for (let improved = true; improved; ) {
    improved = false;
    const from = band;
    for (const move of moves) {
      const next = moved(from, move);
      const added = table.responseOf(next);
      if (!added) continue;
      const enough = lessThan(value);
      const found = costWith(cost, rest, added, enough);
      if (found >= enough || (move[0] !== 0 && !canBe(next))) continue;
      band = next;
      value = found;
      improved = true;
    }
  }
  return { band, value };
}

/** Each band moved to where it is best beside the others, again and again until none moves. */
export function descend(space: GridSpace, start: readonly GridBand[]): GridBank {
  const bands = [...start];
  const open = new Set(bands.keys());
  let value = bankCost(space, bands);
  for (const i of open) {
    open.delete(i);
    const canBe = (band: GridBand) => space.isAllowed(bands.with(i, band));
    const best = descendBand(space, restBeside(space, bands, [i]), bands[i]!, canBe);
    if (best.value >= lessThan(value)) continue;
    bands[i] = best.band;
    value = best.value;
    for (const other of bands.keys()) if (other !== i) open.add(other);
  }
  return { bands, value };
}

/** Bands farther apart than this hardly make up for each other. */
const NEIGHBOURS_OCTAVES = 1.2;

/** As `descend`, and two neighbouring bands moved at once where single ones are at their end. */
export function descendInPairs(space: GridSpace, start: readonly GridBand[]): GridBank {
  let bank = descend(space, start);
  for (let improved = true; improved; ) {
    improved = false;
    for (const [i, k] of neighbours(space, bank.bands)) {
      const better = bestPair(space, bank, i, k);
      if (!better) continue;
      bank = descend(space, better.bands);
      improved = true;
    }
  }
  return bank;
}

function neighbours({ table }: GridSpace, bands: readonly GridBand[]): [number, number][] {
  const at = (i: number) => log2(table.settingOf(bands[i]!).frequencyHz);
  const shelf = (i: number) => bands[i]!.type !== 'peaking';
  return Array.from(bands.keys()).flatMap((i) =>
    Array.from(bands.keys())
      .filter((k) => k > i && (shelf(i) || shelf(k) || Math.abs(at(i) - at(k)) < NEIGHBOURS_OCTAVES))
      .map((k): [number, number] => [i, k]),
  );
}

function bestPair(space: GridSpace, { bands, value }: GridBank, i: number, k: number): GridBank | undefined {
  const { table, cost } = space;
  const { sumDb } = restBeside(space, bands, [i, k]);
  const near = (n: number) =>
    TOGETHER.map((move) => moved(bands[n]!, move)).flatMap((band) => {
      const response = table.responseOf(band);
      return response ? [{ band, response }] : [];
    });
  const [firsts, seconds] = [near(i), near(k)];
  let best: GridBank | undefined;
  for (const first of firsts) {
    const rest = restOf(
      cost,
      sumDb.map((db, p) => db + first.response.responseDb[p]!),
    );
    for (const second of seconds) {
      const enough = lessThan(best?.value ?? value);
      const found = costWith(cost, rest, second.response, enough);
      if (found >= enough) continue;
      const next = bands.with(i, first.band).with(k, second.band);
      if (space.isAllowed(next)) best = { bands: next, value: found };
    }
  }
  return best;
}
