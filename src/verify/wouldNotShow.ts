import type { Filter } from '../filter/filter.js';
import type { Verification } from '../schema/verification.js';
import { insteadDb, type Sampling } from './cellResponse.js';
import { FREE_NUMBER, oneOf } from './filterHypotheses.js';

/** By how much a fault must make the measurement likelier, its penalty taken off, to be counted on. */
const LEAST = 5;
/** A number left free is looked at more closely, as what fits itself to anything a little. */
const LEAST_FREE = 8;
const HALF_OCTAVE = Math.SQRT2;
const OTHER_Q = 3;

/**
 * Which faults of single filters this measurement would not have shown: each is put into it in thought, and what it
 * makes likelier is weighed as in the search for faults.
 *
 * @param likelihoodWith log likelihood of what was measured, named faults taken off, if the equalizer added that as well
 */
export function wouldNotShow(
  filters: readonly Filter[],
  sampleRateHz: number,
  sampling: Sampling,
  likelihoodWith: (changeDb: Float64Array) => number,
): NonNullable<Verification['wouldNotShow']> {
  const asIs = likelihoodWith(new Float64Array(sampling.frequencyHz.length));
  const each = filters.map((filter, i) => {
    const instead = insteadDb(filters, i, sampleRateHz, sampling);
    const gain = (...others: readonly Filter[]) =>
      asIs - likelihoodWith(instead(...others)) - oneOf(filters.length);
    const missing = gain();
    const isHidden = (other: Partial<Filter>) => gain({ ...filter, ...other }) - FREE_NUMBER < LEAST_FREE;
    const frequencies = [filter.frequencyHz / HALF_OCTAVE, filter.frequencyHz * HALF_OCTAVE].filter(
      (hz) => hz < sampleRateHz / 2,
    );
    return {
      missing: missing < LEAST,
      frequency: missing < LEAST || frequencies.some((frequencyHz) => isHidden({ frequencyHz })),
      q: [filter.q / OTHER_Q, filter.q * OTHER_Q].some((q) => isHidden({ q })),
    };
  });
  const indices = (name: 'missing' | 'frequency' | 'q') => each.flatMap((one, i) => (one[name] ? [i] : []));
  return { missing: indices('missing'), frequency: indices('frequency'), q: indices('q') };
}
