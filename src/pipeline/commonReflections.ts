import { speedOfSound } from '../acoustics/speedOfSound.js';
import type { TimeReflection } from '../diagnosis/scene/diagnosisInput.js';
import type { Measurement } from '../measurement/measurement.js';

/** Positions a few centimetres apart see one surface within this. */
const SAME_S = 0.3e-3;
const DEFAULT_TEMPERATURE_C = 20;

/**
 * The reflections that every position shows in time, with their mean delay and level; undefined where a position
 * came without its impulse response.
 */
export function commonReflections(
  measurements: readonly Measurement[],
  temperatureC = DEFAULT_TEMPERATURE_C,
): TimeReflection[] | undefined {
  const [first, ...others] = measurements.map(({ reflections }) => reflections);
  if (!first || others.some((list) => !list)) return undefined;
  const c = speedOfSound(temperatureC);
  return first.flatMap((reflection) => {
    const same = others.map((list) =>
      list?.reduce<TimeReflection | undefined>((best, each) => {
        const distance = Math.abs(each.delayS - reflection.delayS);
        const nearer = distance < Math.abs((best?.delayS ?? Number.POSITIVE_INFINITY) - reflection.delayS);
        return distance <= SAME_S && nearer ? each : best;
      }, undefined),
    );
    if (same.includes(undefined)) return [];
    const all = [reflection, ...same.filter((each) => each !== undefined)];
    const mean = (of: (each: TimeReflection) => number) =>
      all.reduce((sum, r) => sum + of(r), 0) / all.length;
    const delayS = mean((each) => each.delayS);
    return [{ delayS, levelDb: mean((each) => each.levelDb), pathDifferenceM: delayS * c }];
  });
}
