import { lowerIndex } from '../../curve/lowerIndex.js';
import { pow2 } from '../../elementary/exponential.js';
import { log2 } from '../../elementary/logarithm.js';
import type { DeviceProfile, DeviceRange } from './deviceProfile.js';

/** Reading a number from text and multiplying a step may leave this much. */
const SLACK = 1e-9;

export function isContinuous({ step, perOctave, values }: DeviceRange): boolean {
  return step === undefined && perOctave === undefined && values === undefined;
}

/** Whether a device takes every number of its ranges. */
export function isWithoutSteps({ frequencyHz, gainDb, q }: DeviceProfile): boolean {
  return [frequencyHz, gainDb, q].every(isContinuous);
}

/** The device's values next to `x`: the nearest at or below and the nearest at or above, inside the range. */
export function valuesAround(range: DeviceRange, x: number): number[] {
  if (isContinuous(range)) return [Math.min(Math.max(x, range.min), range.max)];
  const at = indexBelow(range, x);
  const near = [at, at + 1].flatMap((k) => valueAt(range, k));
  if (near.length > 0) return near.length === 2 && near[0] === x ? [near[0]] : near;
  return x < range.min ? firstValue(range) : lastValue(range);
}

/** The value `steps` grid steps from a value of the device; undefined beyond the ends and where there are no steps. */
export function steppedValue(range: DeviceRange, value: number, steps: number): number | undefined {
  if (isContinuous(range)) return undefined;
  return valueAt(range, indexBelow(range, value) + steps)[0];
}

/** All values of a device, ascending; none where they are without steps. */
export function allValues(range: DeviceRange): number[] {
  if (isContinuous(range)) return [];
  const values: number[] = [];
  const last = indexBelow(range, range.max) + 1;
  for (let k = indexBelow(range, range.min); k <= last; k++) values.push(...valueAt(range, k));
  return values;
}

/** Whether `x` is one of the device's values. */
export function isDeviceValue(range: DeviceRange, x: number): boolean {
  return valuesAround(range, x).some((value) => Math.abs(value - x) <= SLACK * Math.max(1, Math.abs(x)));
}

function indexBelow({ step, perOctave, values }: DeviceRange, x: number): number {
  if (values) return x < values[0]! ? -1 : lowerIndex(Float64Array.from(values), x * (1 + SLACK));
  if (step !== undefined) return Math.floor(x / step + SLACK);
  return Math.floor(perOctave! * log2(x / 1000) + SLACK);
}

function valueAt(range: DeviceRange, k: number): number[] {
  const { step, perOctave, values, min, max } = range;
  const value = values
    ? values[k]
    : step !== undefined
      ? Number((k * step).toPrecision(12)) + 0
      : 1000 * pow2(k / perOctave!);
  const slack = SLACK * Math.max(1, Math.abs(value ?? 0));
  return value === undefined || value < min - slack || value > max + slack ? [] : [value];
}

function firstValue(range: DeviceRange): number[] {
  const k = indexBelow(range, range.min);
  return [valueAt(range, k), valueAt(range, k + 1)].find((found) => found.length > 0) ?? [];
}

function lastValue(range: DeviceRange): number[] {
  const k = indexBelow(range, range.max);
  return [valueAt(range, k), valueAt(range, k - 1)].find((found) => found.length > 0) ?? [];
}
