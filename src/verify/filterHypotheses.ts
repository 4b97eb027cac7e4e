import { pow2 } from '../elementary/exponential.js';
import { log, log2 } from '../elementary/logarithm.js';
import type { Filter } from '../filter/filter.js';
import { insteadDb, type Sampling } from './cellResponse.js';
import type { Hypothesis } from './hypothesis.js';
import { mistypedFrequencies } from './mistypedFrequencies.js';

const SINGLE = 2;
/** A free number counts for as many alternatives as a measurement tells apart. */
export const FREE_NUMBER = 6;
const SLIP = 3;
const STEPS_PER_OCTAVE = 12;
const LOWEST_HZ = 15;
/** Nearer than that it is the same frequency: what remains is for the tolerance of parts and measurement. */
const LEAST_OCTAVES = 0.06;
const GAIN_SHARES = [0.25, 0.5, 0.75, 1.33, 1.67, 2];
/**
 * Half an octave from one to the next: half of that changes a peaking filter of 6 dB by half a dB at most. What is less
 * than twice or half as much is no slip, and so small a change that a bump beside a filter looks like it.
 */
const Q_FACTORS = [0.25, 0.35, 0.5, 2, 2.83, 4];

/** Penalty of a plain fault of one among so many filters. */
export const oneOf = (count: number): number => SINGLE + log(count);

/** What can go wrong with one filter. */
export function filterHypotheses(
  filters: readonly Filter[],
  index: number,
  sampleRateHz: number,
  sampling: Sampling,
): Hypothesis[] {
  const filter = filters[index]!;
  const one = oneOf(filters.length);
  const instead = insteadDb(filters, index, sampleRateHz, sampling);
  const slips = mistypedFrequencies(filter.frequencyHz, sampleRateHz / 2);
  return [
    {
      type: 'filterMissing',
      filter: index,
      changeDb: instead(),
      penalty: one,
      detail: {},
    },
    {
      type: 'gainSign',
      filter: index,
      changeDb: instead({ ...filter, gainDb: -filter.gainDb }),
      penalty: one,
      detail: { gainDb: -filter.gainDb },
    },
    {
      type: 'unknown',
      filter: index,
      changeDb: instead(filter, filter),
      penalty: one + SLIP,
      detail: { gainDb: 2 * filter.gainDb, isDoubled: true },
    },
    ...slips.map(
      (slip): Hypothesis => ({
        type: 'frequencyWrong',
        filter: index,
        changeDb: instead({ ...filter, frequencyHz: slip.frequencyHz }),
        penalty: one + SLIP,
        detail: { frequencyHz: slip.frequencyHz, slip: slip.words },
      }),
    ),
    ...frequenciesToTry(sampleRateHz)
      .filter((hz) => Math.abs(log2(hz / filter.frequencyHz)) > LEAST_OCTAVES)
      .map((hz) => elsewhere(index, one, instead({ ...filter, frequencyHz: hz }), hz)),
    ...GAIN_SHARES.map(
      (share): Hypothesis => ({
        type: 'unknown',
        filter: index,
        changeDb: instead({ ...filter, gainDb: share * filter.gainDb }),
        penalty: one + FREE_NUMBER,
        detail: { gainDb: share * filter.gainDb },
      }),
    ),
    ...Q_FACTORS.map((factor) => {
      const q = factor * filter.q;
      return otherQ(index, one, instead({ ...filter, q }), q);
    }),
  ];
}

/** The same with the number left free, a frequency or a Q, so many octaves higher; undefined where none is free or possible. */
export function refinedHypothesis(
  filters: readonly Filter[],
  sampleRateHz: number,
  sampling: Sampling,
  { type, filter: index, detail }: Hypothesis,
  octaves: number,
): Hypothesis | undefined {
  if (index === undefined || detail.slip !== undefined) return undefined;
  const one = oneOf(filters.length);
  const instead = (other: Partial<Filter>) =>
    insteadDb(filters, index, sampleRateHz, sampling)({ ...filters[index]!, ...other });
  if (detail.q !== undefined) {
    const q = detail.q * pow2(octaves);
    return otherQ(index, one, instead({ q }), q);
  }
  if (type !== 'frequencyWrong') return undefined;
  const frequencyHz = detail.frequencyHz! * pow2(octaves);
  return frequencyHz < sampleRateHz / 2
    ? elsewhere(index, one, instead({ frequencyHz }), frequencyHz)
    : undefined;
}

const elsewhere = (filter: number, one: number, changeDb: Float64Array, frequencyHz: number): Hypothesis => ({
  type: 'frequencyWrong',
  filter,
  changeDb,
  penalty: one + FREE_NUMBER,
  detail: { frequencyHz },
});

const otherQ = (filter: number, one: number, changeDb: Float64Array, q: number): Hypothesis => ({
  type: 'unknown',
  filter,
  changeDb,
  penalty: one + FREE_NUMBER,
  detail: { q },
});

function frequenciesToTry(sampleRateHz: number): number[] {
  const count = Math.floor(log2((0.49 * sampleRateHz) / LOWEST_HZ) * STEPS_PER_OCTAVE) + 1;
  return Array.from({ length: count }, (_, i) => LOWEST_HZ * pow2(i / STEPS_PER_OCTAVE));
}
