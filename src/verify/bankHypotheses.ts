import { log } from '../elementary/logarithm.js';
import type { Filter } from '../filter/filter.js';
import {
  conventionFor,
  filterFromSetting,
  type QConventionName,
  qConventionNames,
  settingFromFilter,
} from '../filter/qConventions.js';
import { addedDb, type Sampling } from './cellResponse.js';
import type { Hypothesis } from './hypothesis.js';

const WHOLE_BANK = 3;
const CONVERTED = 1.5;
/** Filters that act too weakly, or twice. */
const GAIN_SHARES = [0.25, 0.5, 0.75, 1.5, 2];
const FREE_GAIN = 3;
/** Rates at which converters run. */
const RATES_HZ = [44100, 48000, 88200, 96000, 176400, 192000];

/** What can go wrong with all filters at once. */
export function bankHypotheses(
  filters: readonly Filter[],
  sampleRateHz: number,
  sampling: Sampling,
): Hypothesis[] {
  if (filters.length === 0) return [];
  const promised = addedDb(filters, sampleRateHz, sampling);
  const instead = (others: readonly Filter[]) =>
    addedDb(others, sampleRateHz, sampling).map((db, i) => db - promised[i]!);
  return [
    { type: 'bypassed', changeDb: promised.map((db) => -db), penalty: WHOLE_BANK, detail: {} },
    {
      type: 'gainSign',
      changeDb: instead(filters.map((filter) => ({ ...filter, gainDb: -filter.gainDb }))),
      penalty: WHOLE_BANK,
      detail: {},
    },
    // Twice one after the other is not the same as with twice the gain, where A sets the width as well.
    {
      type: 'unknown',
      changeDb: instead([...filters, ...filters]),
      penalty: WHOLE_BANK,
      detail: { isDoubled: true },
    },
    ...GAIN_SHARES.map(
      (gainShare): Hypothesis => ({
        type: 'unknown',
        changeDb: instead(filters.map((filter) => ({ ...filter, gainDb: gainShare * filter.gainDb }))),
        penalty: WHOLE_BANK + FREE_GAIN,
        detail: { gainShare },
      }),
    ),
    ...rateMistakes(sampleRateHz).map(({ madeForHz, runningAtHz }): Hypothesis => {
      // Coefficients know frequency only as a share of the rate: at another rate the whole response is stretched.
      const shifted = addedDb(filters, sampleRateHz, sampling, runningAtHz / madeForHz);
      return {
        type: 'sampleRate',
        changeDb: shifted.map((db, i) => db - promised[i]!),
        penalty: WHOLE_BANK + log(RATES_HZ.length),
        detail: { madeForHz, runningAtHz },
      };
    }),
    ...qConventionNames.flatMap((name) =>
      (['entered', 'converted'] as const).flatMap((direction): Hypothesis[] => {
        const misread = filters.map((filter) => misreadFilter(filter, name, direction, sampleRateHz));
        if (misread.every((filter, i) => Math.abs(filter.q / filters[i]!.q - 1) < 1e-3)) return [];
        return [
          {
            type: 'qConvention',
            changeDb: instead(misread),
            penalty: WHOLE_BANK + log(qConventionNames.length) + (direction === 'converted' ? CONVERTED : 0),
            detail: { convention: name, direction },
          },
        ];
      }),
    ),
  ];
}

/** What the device makes of a filter when its convention and the number's are not the same. */
function misreadFilter(
  filter: Filter,
  name: QConventionName,
  direction: 'entered' | 'converted',
  sampleRateHz: number,
): Filter {
  if (!conventionFor(name, filter.type).types.includes(filter.type)) return filter;
  if (direction === 'entered') return filterFromSetting(filter, filter.q, name, sampleRateHz) ?? filter;
  const setting = settingFromFilter(filter, name, sampleRateHz);
  return setting !== undefined && setting > 0 ? { ...filter, q: setting } : filter;
}

/** Coefficients for the design's rate run at another; or such for the other of the two common rates run at the design's. */
function rateMistakes(designHz: number) {
  const run = RATES_HZ.filter((rateHz) => rateHz !== designHz).map((rateHz) => ({
    madeForHz: designHz,
    runningAtHz: rateHz,
  }));
  const made = [44100, 48000].filter((rateHz) => rateHz !== designHz && [44100, 48000].includes(designHz));
  return [...run, ...made.map((rateHz) => ({ madeForHz: rateHz, runningAtHz: designHz }))];
}
