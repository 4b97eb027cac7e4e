import type { FilterType } from '../filter/filter.js';
import { qConventions } from '../filter/qConventions.js';
import { qEnds } from '../fit/bank/bounds.js';
import type { FitLimits } from '../fit/problem/fitProblem.js';
import { InputError } from '../inputError.js';
import { type AllowedQs, allowedQs } from './grid/allowedQs.js';
import { fixedSlots, freeSlots, typesOf } from './profile/bandSlots.js';
import type { DeviceProfile } from './profile/deviceProfile.js';
import { valuesAround } from './profile/deviceValues.js';

/**
 * What may be fitted for a device: the user's limits and the device's, whichever is tighter, and the device's bands.
 * Types of which no Q that the device has is allowed are left out. Bands at fixed frequencies are not for the search;
 * `roundToDevice` puts in those that are named.
 *
 * @throws InputError where the device has nothing within the user's limits
 */
export function deviceLimits(limits: FitLimits, device: DeviceProfile, sampleRateHz: number): FitLimits {
  const slots = slotsOf(device, limits.types);
  const { frequencyHz, gainDb } = device;
  const narrowed = {
    ...limits,
    maxBoostDb: Math.min(limits.maxBoostDb, Math.max(0, gainDb.max)),
    maxCutDb: Math.min(limits.maxCutDb, Math.max(0, -gainDb.min)),
    minFrequencyHz: Math.max(limits.minFrequencyHz, slots.length > 0 ? frequencyHz.min : 0),
    maxFrequencyHz: Math.min(limits.maxFrequencyHz, slots.length > 0 ? frequencyHz.max : sampleRateHz / 2),
  };
  const range = { ...frequencyHz, min: narrowed.minFrequencyHz, max: narrowed.maxFrequencyHz };
  const fixed = fixedSlots(device).filter(
    ({ type, frequencyHz: hz }) => limits.types.includes(type) && hz >= range.min && hz <= range.max,
  );
  if (
    fixed.length === 0 &&
    (slots.length === 0 || range.min > range.max || valuesAround(range, range.min).length === 0)
  ) {
    throw new InputError(
      `device "${device.name}": found no band between ${limits.minFrequencyHz.toFixed(0)} and ` +
        `${limits.maxFrequencyHz.toFixed(0)} Hz, where the range to be corrected lies; expected at least one there`,
    );
  }
  refuseNoGain(narrowed, device);
  const types = typesOf([...slots, ...fixed.map(({ type }) => [type])]);
  const qs = allowedQs(narrowed, device, sampleRateHz, types);
  const isUsable = (type: FilterType) => (type === 'peaking' ? qs.peaking : qs.shelf) !== undefined;
  const usable = slotsOf(device, limits.types.filter(isUsable));
  return {
    ...narrowed,
    ...withQs(narrowed, qs),
    ...qSettingOf(device, sampleRateHz),
    maxBands: Math.min(limits.maxBands, usable.length),
    types: typesOf(usable),
    slots: usable,
    fixedBands: fixed.filter(({ type }) => isUsable(type)),
  };
}

/** Between the steps of its gain a device holds nothing, however much boost and cut are allowed there. */
function refuseNoGain({ maxBoostDb, maxCutDb }: FitLimits, { name, gainDb }: DeviceProfile): void {
  const slackDb = 1e-9;
  const boosts = valuesAround(gainDb, maxBoostDb).some((db) => db > slackDb && db <= maxBoostDb + slackDb);
  const cuts = valuesAround(gainDb, -maxCutDb).some((db) => db < -slackDb && db >= -maxCutDb - slackDb);
  if (boosts || cuts) return;
  throw new InputError(
    `device "${name}": found no gain but 0 dB from ${-maxCutDb} to ${maxBoostDb} dB (--max-cut, --max-boost, and its own ` +
      'range), expected one that changes something',
  );
}

/** Of each band whose frequency can be chosen, what it may be of some types. */
function slotsOf(device: DeviceProfile, types: readonly FilterType[]): (readonly FilterType[])[] {
  return freeSlots(device)
    .map((slot) => slot.filter((type) => types.includes(type)))
    .filter((slot) => slot.length > 0);
}

/** Nothing is held to a convention that has no value for small gains: the way across them stays open. */
const SMALL_DB = 0.1;

function qSettingOf({ qConvention, q }: DeviceProfile, sampleRateHz: number): Pick<FitLimits, 'qSetting'> {
  const { types, hangsOn, range } = qConventions[qConvention];
  const isAlwaysThere = range(
    { type: types[0]!, frequencyHz: sampleRateHz / 4, gainDb: SMALL_DB },
    sampleRateHz,
  );
  if (hangsOn.length === 0 || !isAlwaysThere) return {};
  const [min, max] = [valuesAround(q, q.min)[0]!, valuesAround(q, q.max).at(-1)!];
  return { qSetting: { convention: qConvention, min, max, sampleRateHz } };
}

function withQs(limits: FitLimits, { peaking, shelf }: AllowedQs): FitLimits {
  const narrowed = peaking ? { ...limits, minQ: peaking.min, maxQ: peaking.max } : limits;
  const { min, max } = qEnds(narrowed, 'lowShelf');
  return shelf && (shelf.min !== min || shelf.max !== max) ? { ...narrowed, shelfQ: shelf } : narrowed;
}
