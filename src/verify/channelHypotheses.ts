import type { Curve } from '../curve/curve.js';
import { resampleToGrid } from '../curve/resampleToGrid.js';
import { smoothOctave } from '../curve/smoothOctave.js';
import { InputError } from '../inputError.js';
import { addedDb } from './cellResponse.js';
import type { Comparison, PromisedBank } from './comparison.js';
import type { Hypothesis } from './hypothesis.js';

/** The other channel: its design where there is one, and its speaker as it was before. */
export interface OtherChannel {
  readonly bank?: Pick<PromisedBank, 'filters' | 'sampleRateHz'>;
  readonly before: Curve;
}

const PENALTY = 4;

/**
 * What a mix-up of channels would show. It can be told only from the other channel's own curve or filters.
 *
 * @throws InputError where the other channel's curve does not cover the span that is compared
 */
export function channelHypotheses(comparison: Comparison, other: OtherChannel): Hypothesis[] {
  const { frequencyHz, beforeDb, promisedDb, alike } = comparison;
  const otherBefore = resampleToGrid(
    // Both channels are taken to have been measured in the same way.
    alike ? smoothOctave(other.before, alike.smoothings.after) : other.before,
    frequencyHz,
  );
  if (otherBefore.frequencyHz.length !== frequencyHz.length) {
    const from = frequencyHz[0]!.toPrecision(3);
    const to = frequencyHz[frequencyHz.length - 1]!.toPrecision(3);
    throw new InputError(
      `the other channel's curve does not cover ${Number(from)} to ${Number(to)} Hz, which is compared`,
    );
  }
  const speakerDb = otherBefore.levelDb.map((db, i) => db - beforeDb[i]!);
  const hypothesis = (
    exchanged: 'filters' | 'speakers' | 'measured',
    changeDb: Float64Array,
  ): Hypothesis => ({
    type: 'channelsSwapped',
    changeDb,
    penalty: PENALTY,
    detail: { exchanged },
  });
  const speakers = hypothesis('speakers', speakerDb);
  if (!other.bank) return [speakers];
  const { filters, sampleRateHz } = other.bank;
  const filtersDb = addedDb(filters, sampleRateHz, comparison).map((db, i) => db - promisedDb[i]!);
  return [
    speakers,
    hypothesis('filters', filtersDb),
    hypothesis(
      'measured',
      filtersDb.map((db, i) => db + speakerDb[i]!),
    ),
  ];
}
