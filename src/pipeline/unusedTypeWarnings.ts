import { common, figures } from '../device/grid/allowedQs.js';
import { qWithinReach } from '../device/grid/qWithinReach.js';
import type { DeviceProfile } from '../device/profile/deviceProfile.js';
import type { FilterType } from '../filter/filter.js';
import { qEnds } from '../fit/bank/bounds.js';
import type { FitLimits } from '../fit/problem/fitProblem.js';
import type { Warning } from '../warning.js';
import type { DesignRequest } from './designRequest.js';

const KINDS: readonly {
  readonly words: string;
  readonly types: readonly FilterType[];
  readonly options: string;
}[] = [
  { words: 'peaks', types: ['peaking'], options: '--q-min, --q-max' },
  { words: 'shelves', types: ['lowShelf', 'highShelf'], options: '--q-min, --q-max, --shelf-q-max' },
];

/**
 * Peaks or shelves that a device has but that no fit can use, since it has none of the Qs allowed.
 *
 * @param limits that were fitted within
 */
export function unusedTypeWarnings(
  device: DeviceProfile,
  { minQ, maxQ, maxShelfQ = maxQ }: Pick<DesignRequest, 'minQ' | 'maxQ' | 'maxShelfQ'>,
  { shelfQ: _, ...limits }: FitLimits,
  sampleRateHz: number,
): Warning[] {
  const asked = { ...limits, minQ, maxQ, maxShelfQ };
  return KINDS.flatMap(({ words, types, options }) => {
    const type = types.find((each) => device.bands.some((group) => group.types.includes(each)));
    const has = type && qWithinReach(device, asked, sampleRateHz, type);
    const allowed = type && qEnds(asked, type);
    if (!has || !allowed || common(has, allowed)) return [];
    const message =
      `Device "${device.name}": its ${words} are not used: as "${device.qConvention}" its values make them a Q from ` +
      `${figures(has.min)} to ${figures(has.max)} (cookbook), and ${allowed.min} to ${allowed.max} are ` +
      `allowed (${options}).`;
    return [{ code: 'device-type-unusable', message }];
  });
}
