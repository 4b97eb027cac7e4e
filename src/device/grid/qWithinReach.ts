import type { FilterType } from '../../filter/filter.js';
import { conventionFor } from '../../filter/qConventions.js';
import type { FitLimits, QEnds } from '../../fit/problem/fitProblem.js';
import { fixedSlots, freeSlots } from '../profile/bandSlots.js';
import type { DeviceProfile } from '../profile/deviceProfile.js';
import { valuesAround } from '../profile/deviceValues.js';
import { frequencyRange } from '../stored/deviceBank.js';

/** Some conventions speak only of gains beyond it: half the power. */
const HALF_POWER_DB = 3.0103;
/** Where gains have no steps, the least that is worth a band. */
const LEAST_DB = 0.01;
const WITHIN = 1e-9;

/**
 * The cookbook's Q that a device can have with some frequency, gain and setting of its own within the limits: a number
 * that it calls Q may mean one thing for peaks and another for shelves, and what it comes to may hang on frequency and
 * gain. Not every Q between the ends is to be had at every frequency and gain.
 *
 * @returns undefined where the device has no such filter
 */
export function qWithinReach(
  device: DeviceProfile,
  limits: FitLimits,
  sampleRateHz: number,
  type: FilterType,
): QEnds | undefined {
  const convention = conventionFor(device.qConvention, type);
  const qs = frequenciesOf(device, limits, sampleRateHz, type).flatMap((frequencyHz) =>
    gainsOf(device, limits).flatMap((gainDb) => {
      const shape = { type, frequencyHz, gainDb };
      const possible = convention.range(shape, sampleRateHz);
      return possible
        ? settingsWithin(device, possible)
            .map((setting) => convention.toCookbookQ(setting, shape, sampleRateHz))
            .filter((q) => q > 0)
        : [];
    }),
  );
  return qs.length === 0 ? undefined : { min: Math.min(...qs), max: Math.max(...qs) };
}

/** The ends of the frequencies, and what lies between them where a bandwidth in Hz makes the sharpest filter. */
function frequenciesOf(
  device: DeviceProfile,
  limits: FitLimits,
  sampleRateHz: number,
  type: FilterType,
): number[] {
  const { min, max } = frequencyRange({ device, limits });
  const free = freeSlots(device).some((types) => types.includes(type))
    ? [min, max, sampleRateHz / 4].filter((hz) => hz >= min && hz <= max)
    : [];
  const fixed = fixedSlots(device)
    .filter((slot) => slot.type === type)
    .map(({ frequencyHz }) => frequencyHz);
  return [...free, ...fixed.filter((hz) => hz >= limits.minFrequencyHz && hz <= limits.maxFrequencyHz)];
}

/** The greatest boost and cut, the least ones, and the least ones that every convention speaks of. */
function gainsOf({ gainDb }: DeviceProfile, { maxBoostDb, maxCutDb }: FitLimits): number[] {
  const wanted = [maxBoostDb, HALF_POWER_DB + LEAST_DB, LEAST_DB];
  const all = [...wanted, -maxCutDb, ...wanted.slice(1).map((db) => -db)];
  const gains = all.flatMap((db) => valuesAround(gainDb, db)).filter((db) => db !== 0);
  const allowed = gains.filter((db) => db <= maxBoostDb + WITHIN && db >= -maxCutDb - WITHIN);
  // Where no gain is allowed at all, that is for others to say.
  return allowed.length > 0 ? allowed : gains;
}

/** The least and the greatest setting inside an open interval. */
function settingsWithin({ q }: DeviceProfile, { min, max }: QEnds): number[] {
  const inside = (value: number) => value > min && value < max;
  const least = valuesAround(q, Math.max(q.min, min * (1 + WITHIN))).filter(inside);
  const greatest = valuesAround(q, Math.min(q.max, max * (1 - WITHIN))).filter(inside);
  return [...least.slice(0, 1), ...greatest.slice(-1)];
}
