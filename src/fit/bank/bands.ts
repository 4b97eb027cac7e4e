import { exp } from '../../elementary/exponential.js';
import { log } from '../../elementary/logarithm.js';
import type { Filter, FilterType } from '../../filter/filter.js';

/** Filter types as the kernel counts them. */
export const PEAKING = 0;
export const LOW_SHELF = 1;
export const HIGH_SHELF = 2;

const NAMES: readonly FilterType[] = ['peaking', 'lowShelf', 'highShelf'];

/**
 * A bank as the optimizer moves it: per band one type and three free numbers, laid out
 * `values[3i] = ln f`, `values[3i + 1] = gain in dB`, `values[3i + 2] = ln Q`, so that a step of 0.1 means
 * about the same everywhere.
 */
export interface Bands {
  readonly types: Uint8Array;
  readonly values: Float64Array;
}

export const NO_BANDS: Bands = { types: new Uint8Array(0), values: new Float64Array(0) };

export function typeCode(type: FilterType): number {
  return NAMES.indexOf(type);
}

export function typeName(code: number): FilterType {
  return NAMES[code]!;
}

export function bandsFromFilters(filters: readonly Filter[]): Bands {
  const types = Uint8Array.from(filters, (filter) => typeCode(filter.type));
  const values = new Float64Array(filters.length * 3);
  filters.forEach((filter, i) => {
    values[3 * i] = log(filter.frequencyHz);
    values[3 * i + 1] = filter.gainDb;
    values[3 * i + 2] = log(filter.q);
  });
  return { types, values };
}

export function filtersFromBands(bands: Bands): Filter[] {
  return Array.from(bands.types, (code, i) => ({
    type: NAMES[code]!,
    frequencyHz: exp(bands.values[3 * i]!),
    gainDb: bands.values[3 * i + 1]!,
    q: exp(bands.values[3 * i + 2]!),
  }));
}

export function withBand(bands: Bands, type: number, lnF: number, gainDb: number, lnQ: number): Bands {
  const n = bands.types.length;
  const types = new Uint8Array(n + 1);
  const values = new Float64Array(3 * n + 3);
  types.set(bands.types);
  values.set(bands.values);
  types[n] = type;
  values.set([lnF, gainDb, lnQ], 3 * n);
  return { types, values };
}

export function withoutBand({ types, values }: Bands, index: number): Bands {
  const n = types.length - 1;
  const kept = { types: new Uint8Array(n), values: new Float64Array(3 * n) };
  kept.types.set(types.subarray(0, index));
  kept.types.set(types.subarray(index + 1), index);
  kept.values.set(values.subarray(0, 3 * index));
  kept.values.set(values.subarray(3 * index + 3), 3 * index);
  return kept;
}

/** The bands at `indices`, in that order. */
export function pickBands(bands: Bands, indices: readonly number[]): Bands {
  const types = new Uint8Array(indices.length);
  const values = new Float64Array(3 * indices.length);
  for (let k = 0; k < indices.length; k++) {
    const i = indices[k]!;
    types[k] = bands.types[i]!;
    values[3 * k] = bands.values[3 * i]!;
    values[3 * k + 1] = bands.values[3 * i + 1]!;
    values[3 * k + 2] = bands.values[3 * i + 2]!;
  }
  return { types, values };
}

/** All bands of several banks, in that order. */
export function joined(...banks: readonly Bands[]): Bands {
  const count = banks.reduce((sum, { types }) => sum + types.length, 0);
  const all = { types: new Uint8Array(count), values: new Float64Array(3 * count) };
  let at = 0;
  for (const { types, values } of banks) {
    all.types.set(types, at);
    all.values.set(values, 3 * at);
    at += types.length;
  }
  return all;
}

/** The places of all bands, ascending in frequency. */
export function byFrequency({ types, values }: Bands): number[] {
  const order: number[] = [];
  for (let i = 0; i < types.length; i++) {
    let at = i;
    for (; at > 0 && values[3 * order[at - 1]!]! > values[3 * i]!; at--) order[at] = order[at - 1]!;
    order[at] = i;
  }
  return order;
}

/** Differences of ln f, gain and ln Q within which a bank runs back to where another stands. */
const SAME = [0.05, 0.4, 0.2] as const;

export function isSame(a: Bands, b: Bands): boolean {
  if (a.types.length !== b.types.length) return false;
  const [inA, inB] = [byFrequency(a), byFrequency(b)];
  return inA.every((i, k) => {
    const other = inB[k]!;
    return (
      a.types[i] === b.types[other] &&
      SAME.every((within, n) => Math.abs(a.values[3 * i + n]! - b.values[3 * other + n]!) < within)
    );
  });
}
