import { cholesky } from '../../elementary/cholesky.js';
import { exp } from '../../elementary/exponential.js';
import { log } from '../../elementary/logarithm.js';
import type { Filter } from '../../filter/filter.js';
import { settingFromFilter } from '../../filter/qConventions.js';
import { type Bands, filtersFromBands } from '../../fit/bank/bands.js';
import { type Bounds, clampToBounds } from '../../fit/bank/bounds.js';
import { normalEquations } from '../../fit/kernel/typescript/linearize.js';
import type { Objective } from '../../fit/objective/objective.js';
import { objectiveValue } from '../../fit/refinement/objectiveValue.js';
import { refine } from '../../fit/refinement/refine.js';
import { isContinuous, steppedValue, valuesAround } from '../profile/deviceValues.js';
import { bandsOf, type DeviceBand, type DeviceBounds, filterOf } from '../stored/deviceBank.js';

/** A bank on the grid and what it should come to, which leaves out limits that only the rounding breaks. */
export interface RoundedBank {
  readonly bank: readonly DeviceBand[];
  readonly value: number;
  readonly foretold: number;
}

/** Roundings that are followed at a time, and values tried for each number. */
const FOLLOWED = 60;
const VALUES = 3;
/** Keeps numbers that hardly matter from being taken far. */
const RIDGE = 1e-4;
const LEAST = 1e-7;
const REFINE = { maxIterations: 10, tolerance: 1e-4, frozen: (j: number) => j % 3 === 0 };

/**
 * Brings the gains and Qs of a bank to the device's values, all in view of each other: near its optimum the objective
 * is a quadratic form of all numbers, and its triangular factor tells number by number what each rounding costs when those
 * still free make up for it as well as they can. The cheapest few roundings are followed, and the best taken by the objective
 * itself.
 *
 * @param objective with the limits firm
 * @param frequencyOf the device's own number for the logarithm of a frequency of its list
 * @returns undefined where the device has no such bank
 */
export function roundTogether(
  device: DeviceBounds,
  objective: Objective,
  bounds: Bounds,
  start: Bands,
  frequencyOf: (lnF: number) => number,
): RoundedBank | undefined {
  const { bands, value } = refine(objective, start, bounds, REFINE);
  const filters = filtersFromBands(bands).map((filter, i) => ({
    ...filter,
    frequencyHz: frequencyOf(bands.values[3 * i]!),
  }));
  const order = orderOf(filters.length);
  const lower = factorOf(objective, bands, order);
  const n = order.length;
  let paths: Path[] = [{ moved: new Float64Array(n), bank: filters, cost: 0 }];
  for (let i = n - 1; i >= 0; i--) {
    const j = order[i]!;
    const scale = lower[i * n + i]!;
    const next = paths.flatMap(({ moved, bank, cost }): Path[] => {
      let drawn = 0;
      for (let k = i + 1; k < n; k++) drawn += lower[k * n + i]! * moved[k]!;
      const centre = bands.values[j]! - drawn / scale;
      const best = clampToBounds(centre, bounds, bands, j);
      return optionsFor(device, bank[Math.floor(j / 3)]!, j % 3 === 1, best).map(({ band, at }) => ({
        moved: moved.with(i, at - bands.values[j]!),
        bank: bank.with(Math.floor(j / 3), band),
        cost: cost + (scale * (at - centre)) ** 2,
      }));
    });
    paths = next.sort((a, b) => a.cost - b.cost).slice(0, FOLLOWED);
  }
  const ends = paths.flatMap(({ bank, cost }): RoundedBank[] => {
    const rounded = bandsOf(device, bank);
    return rounded ? [{ bank, value: objectiveValue(objective, rounded), foretold: value + cost }] : [];
  });
  return ends.length === 0 ? undefined : ends.reduce((a, b) => (b.value < a.value ? b : a));
}

interface Path {
  /** How far each number has been moved; 0 where it is still free. */
  readonly moved: Float64Array;
  /** Cookbook filters in which gains, and then Qs, give way to the device's settings. */
  readonly bank: readonly DeviceBand[];
  readonly cost: number;
}

/** Qs first and gains last: the numbers are fixed from the last one back, and what a Q is set to may depend on the gain. */
function orderOf(count: number): number[] {
  const bands = Array.from({ length: count }, (_, i) => i);
  return [...bands.map((i) => 3 * i + 2), ...bands.map((i) => 3 * i + 1)];
}

/** L of JᵀJ = LLᵀ for the numbers in this order. */
function factorOf(objective: Objective, bands: Bands, order: readonly number[]): Float64Array {
  normalEquations(objective, bands);
  const row = bands.values.length;
  const n = order.length;
  const matrix = new Float64Array(n * n);
  order.forEach((a, i) => {
    order.forEach((b, k) => {
      matrix[i * n + k] = objective.normalMatrix[Math.max(a, b) * row + Math.min(a, b)]!;
    });
    matrix[i * n + i] = matrix[i * n + i]! * (1 + RIDGE) + LEAST;
  });
  return cholesky(matrix, n);
}

interface Option {
  readonly band: DeviceBand;
  /** The value in the optimizer's scale. */
  readonly at: number;
}

/** The device's gains or settings of Q nearest to a value, as they are in the optimizer's scale. */
function optionsFor(device: DeviceBounds, band: Filter, isGain: boolean, best: number): Option[] {
  const options = isGain ? gainOptions(device, band, best) : qOptions(device, band, best);
  return options.sort((a, b) => Math.abs(a.at - best) - Math.abs(b.at - best)).slice(0, VALUES);
}

function gainOptions({ device, limits }: DeviceBounds, band: Filter, best: number): Option[] {
  return valuesNear(device.gainDb, best)
    .filter((db) => db !== 0 && db <= limits.maxBoostDb + 1e-9 && db >= -limits.maxCutDb - 1e-9)
    .map((gainDb) => ({ band: { ...band, gainDb }, at: gainDb }));
}

function qOptions(device: DeviceBounds, band: Filter, best: number): Option[] {
  const { qConvention, q } = device.device;
  const exact = settingFromFilter({ ...band, q: exp(best) }, qConvention, device.sampleRateHz);
  if (exact === undefined) return [];
  return valuesNear(q, exact).flatMap((setting): Option[] => {
    const set = { ...band, q: setting };
    const filter = filterOf(device, set);
    return filter ? [{ band: set, at: log(filter.q) }] : [];
  });
}

/** The values next to `x` and those next to them. */
function valuesNear(range: DeviceBounds['device']['q'], x: number): number[] {
  const near = valuesAround(range, x);
  if (isContinuous(range) || near.length === 0) return near;
  const beside = [steppedValue(range, near[0]!, -1), steppedValue(range, near.at(-1)!, 1)];
  return [...near, ...beside.filter((value) => value !== undefined)];
}
