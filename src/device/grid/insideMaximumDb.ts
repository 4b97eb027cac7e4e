import type { Filter } from '../../filter/filter.js';
import type { DeviceProfile } from '../profile/deviceProfile.js';
import { storedMaximumDb } from '../stored/realResponse.js';
import { storedBank } from '../stored/storedBank.js';

/**
 * The greatest level that a signal of full scale reaches anywhere between the bands, 0 dB where none lifts it: what
 * a later band takes back must fit into the device before.
 *
 * @param filters in the order in which the device runs them
 */
export function insideMaximumDb(
  filters: readonly Filter[],
  device: DeviceProfile,
  sampleRateHz: number,
): number {
  return filters.reduce((most, _, i) => {
    const first = filters.slice(0, i + 1);
    const { deviationDb } = storedBank(first, device, sampleRateHz);
    return Math.max(most, storedMaximumDb(first, deviationDb, sampleRateHz));
  }, 0);
}
