import { plainest, plainScales, weighBank } from '../../fit/finish/plainScales.js';
import { bandsOf, type DeviceBounds } from '../stored/deviceBank.js';
import type { GridBank, GridSpace } from './gridDescent.js';

/** A plainer bank may leave so much more of the RMS error: the steps cost several times that in any case. */
const MORE_SHARE = 0.02;

/**
 * Of banks that leave about as little the one whose bands work least against each other. A frequency that the device
 * does not have can be made of its two neighbours, the one boosting and the other cutting: decibels that nobody would
 * enter for a hundredth of one.
 */
export function plainestOnGrid(
  { table, cost }: GridSpace,
  bounds: DeviceBounds,
  banks: readonly GridBank[],
): GridBank {
  const scales = plainScales(Math.min(...banks.map(({ value }) => value)), { share: MORE_SHARE });
  const weighed = banks.map((bank) => {
    const bands = bandsOf(bounds, bank.bands.map(table.settingOf))!;
    return { ...weighBank(cost.grid, bands, bank.value), bank };
  });
  return plainest(scales, weighed).bank;
}
