import { byFrequency, pickBands } from './bands.js';
import { bankValues } from './bankKernel.js';
import type { Objective } from './objective.js';
import type { Refined } from './refine.js';
import { product, weighted } from './weightedProducts.js';

/** The EQ of a bank's lowest 0, 1, … n bands and what the whole bank leaves, weighted (see weightedProducts.ts). */
export interface BandSums {
  readonly points: number;
  /** n + 1 rows of `points`: sums of the lowest bands. */
  readonly rows: Float64Array;
  readonly left: Float64Array;
  /** (n + 1)²: products of the rows with each other. */
  readonly products: Float64Array;
  /** Products of the rows with what is left, and of that with itself: the squared error, dB². */
  readonly withLeft: Float64Array;
  readonly leftSquare: number;
}

const known = new WeakMap<Refined, BandSums>();

/** Kept as long as the bank. */
export function bandSums(objective: Objective, bank: Refined): BandSums {
  const sums = known.get(bank) ?? sumUp(objective, bank);
  known.set(bank, sums);
  return sums;
}

function sumUp({ grid, options }: Objective, { bands }: Refined): BandSums {
  const points = grid.errorPoints;
  const warped = grid.warped.subarray(0, points);
  const levelFree = options.levelDb === undefined;
  const places = byFrequency(bands);
  const rows = new Float64Array((places.length + 1) * points);
  const sum = new Float64Array(points);
  const one = new Float64Array(points);
  for (const [k, i] of places.entries()) {
    const band = pickBands(bands, [i]);
    bankValues(band.types, band.values, warped, grid.sampleRateHz, one);
    for (let p = 0; p < points; p++) sum[p]! += one[p]!;
    rows.set(weighted(sum, grid.weight, levelFree), (k + 1) * points);
  }
  const left = weighted(
    grid.deviationDb.map((db, p) => db + sum[p]! - (options.levelDb ?? 0)),
    grid.weight,
    levelFree,
  );
  const width = places.length + 1;
  const products = productsBetween(rows, rows, width, width, points);
  const withLeft = productsBetween(rows, left, width, 1, points);
  return { points, rows, left, products, withLeft, leftSquare: product(left, 0, left, 0, points) };
}

/** Products of the rows of `a` with those of `b`, the latter's side by side. */
export function productsBetween(
  a: Float64Array,
  b: Float64Array,
  inA: number,
  inB: number,
  points: number,
): Float64Array {
  const products = new Float64Array(inA * inB);
  for (let i = 0; i < inA; i++) {
    for (let j = 0; j < inB; j++) products[i * inB + j] = product(a, i * points, b, j * points, points);
  }
  return products;
}
