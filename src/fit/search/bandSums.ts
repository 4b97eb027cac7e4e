import { byFrequency, pickBands } from '../bank/bands.js';
import { bankValues } from '../bank/bankKernel.js';
import type { Objective } from '../objective/objective.js';
import type { Refined } from '../refinement/refine.js';
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
  const products = productsOfAll(rows, width, points);
  const withLeft = productsBetween(rows, left, width, 1, points);
  return { points, rows, left, products, withLeft, leftSquare: product(left, 0, left, 0, points) };
}

/** Products of the rows with each other: each pair is multiplied once. */
function productsOfAll(rows: Float64Array, count: number, points: number): Float64Array {
  const products = new Float64Array(count * count);
  for (let i = 0; i < count; i += 3) {
    for (let j = i; j < count; j += 3) nineProducts(rows, rows, i, j, count, count, points, products);
  }
  for (let i = 0; i < count; i++) {
    for (let j = 0; j < i; j++) products[i * count + j] = products[j * count + i]!;
  }
  return products;
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
  for (let i = 0; i < inA; i += 3) {
    for (let j = 0; j < inB; j += 3) nineProducts(a, b, i, j, inA, inB, points, products);
  }
  return products;
}

/** Those of three rows with three: a number fetched serves three sums. At the ends a row may be taken more than once. */
function nineProducts(
  a: Float64Array,
  b: Float64Array,
  i: number,
  j: number,
  inA: number,
  inB: number,
  points: number,
  products: Float64Array,
): void {
  const [i1, i2] = [Math.min(i + 1, inA - 1), Math.min(i + 2, inA - 1)];
  const [j1, j2] = [Math.min(j + 1, inB - 1), Math.min(j + 2, inB - 1)];
  const [a0, a1, a2] = [i * points, i1 * points, i2 * points];
  const [b0, b1, b2] = [j * points, j1 * points, j2 * points];
  let s00 = 0;
  let s01 = 0;
  let s02 = 0;
  let s10 = 0;
  let s11 = 0;
  let s12 = 0;
  let s20 = 0;
  let s21 = 0;
  let s22 = 0;
  for (let p = 0; p < points; p++) {
    const x0 = a[a0 + p]!;
    const x1 = a[a1 + p]!;
    const x2 = a[a2 + p]!;
    const y0 = b[b0 + p]!;
    const y1 = b[b1 + p]!;
    const y2 = b[b2 + p]!;
    s00 += x0 * y0;
    s01 += x0 * y1;
    s02 += x0 * y2;
    s10 += x1 * y0;
    s11 += x1 * y1;
    s12 += x1 * y2;
    s20 += x2 * y0;
    s21 += x2 * y1;
    s22 += x2 * y2;
  }
  products[i * inB + j] = s00;
  products[i * inB + j1] = s01;
  products[i * inB + j2] = s02;
  products[i1 * inB + j] = s10;
  products[i1 * inB + j1] = s11;
  products[i1 * inB + j2] = s12;
  products[i2 * inB + j] = s20;
  products[i2 * inB + j1] = s21;
  products[i2 * inB + j2] = s22;
}
