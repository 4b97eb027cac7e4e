import type { FilterType } from '../../filter/filter.js';
import { conventionFor } from '../../filter/qConventions.js';
import { qEnds } from '../../fit/bank/bounds.js';
import type { FitLimits, QEnds } from '../../fit/problem/fitProblem.js';
import { InputError } from '../../inputError.js';
import type { DeviceProfile } from '../profile/deviceProfile.js';
import { valuesAround } from '../profile/deviceValues.js';
import { qWithinReach } from './qWithinReach.js';

/** The cookbook's Q that a device has and that is allowed, for peaks and for shelves; undefined where there is none. */
export interface AllowedQs {
  readonly peaking: QEnds | undefined;
  readonly shelf: QEnds | undefined;
}

/**
 * @param limits frequencies and gains narrowed to the device's, Qs as the user allows them
 * @param types that the device's bands may have
 * @throws InputError where no type has an allowed Q; also where none of the device's shelves is as flat as asked for,
 *   though its number means the same for peaks and shelves
 */
export function allowedQs(
  limits: FitLimits,
  device: DeviceProfile,
  sampleRateHz: number,
  types: readonly FilterType[],
): AllowedQs {
  const shelfType = types.find((type) => type !== 'peaking');
  const reach = (type: FilterType | undefined) => type && qWithinReach(device, limits, sampleRateHz, type);
  const has = { peaking: reach(types.find((type) => type === 'peaking')), shelf: reach(shelfType) };
  const any = { min: limits.minQ, max: limits.maxQ };
  const peaking = common(has.peaking, any);
  const shelf = common(has.shelf, qEnds(limits, 'lowShelf'));
  const { name, qConvention } = device;
  const isOneMeaning = conventionFor(qConvention, 'peaking') === conventionFor(qConvention, 'lowShelf');
  if (has.shelf && !shelf && common(has.shelf, any) && (isOneMeaning || !peaking)) {
    throw new InputError(
      `device "${name}": its least Q of ${figures(has.shelf.min)} (cookbook) is above the ` +
        `${limits.maxShelfQ} allowed for shelves (--shelf-q-max)`,
    );
  }
  if (!peaking && !shelf)
    throw new InputError(`device "${name}": ${nothingAllowed(limits, qConvention, has)}`);
  refuseBetweenSteps(limits, device, types);
  return { peaking, shelf };
}

/** Where the device's number is the cookbook's Q itself, none of its steps may lie within what is allowed. */
function refuseBetweenSteps(
  { minQ, maxQ }: FitLimits,
  { name, q, qConvention }: DeviceProfile,
  types: readonly FilterType[],
): void {
  if (types.some((type) => conventionFor(qConvention, type).name !== 'cookbook')) return;
  const around = valuesAround(q, minQ);
  if (around.some((value) => value >= minQ * (1 - 1e-9) && value <= maxQ * (1 + 1e-9))) return;
  throw new InputError(
    `device "${name}": of its Qs none is from ${minQ} to ${maxQ} as allowed (--q-min, --q-max); next to them it has ` +
      around.map(figures).join(' and '),
  );
}

function nothingAllowed(
  { minQ, maxQ, maxCutDb, maxBoostDb }: FitLimits,
  convention: string,
  { peaking, shelf }: AllowedQs,
): string {
  const words = ({ min, max }: QEnds) => `from ${figures(min)} to ${figures(max)}`;
  if (!peaking && !shelf) {
    return (
      `found no filter whose Q is within its range as "${convention}" at gains from ${-maxCutDb} to ${maxBoostDb} dB; ` +
      'expected another range of Q or of gains'
    );
  }
  const isSame = !peaking || !shelf || (peaking.min === shelf.min && peaking.max === shelf.max);
  const range = isSame
    ? `${words((peaking ?? shelf)!)} (cookbook)`
    : `${words(peaking)} (cookbook) for peaks and ${words(shelf)} for shelves`;
  return `its Q ${range} has nothing in common with the ${minQ} to ${maxQ} allowed (--q-min, --q-max)`;
}

/** What two ranges have in common; undefined where nothing is. */
export function common(a: QEnds | undefined, b: QEnds): QEnds | undefined {
  if (!a) return undefined;
  const both = { min: Math.max(a.min, b.min), max: Math.min(a.max, b.max) };
  return both.min <= both.max * (1 + 1e-9) ? both : undefined;
}

/** A Q for people, to three figures. */
export const figures = (q: number) => (q < 999.5 ? q.toPrecision(3) : q.toFixed(0));
