import type { Design } from '../schema/design.js';
import type { Warning } from '../warning.js';
import type { Comparison } from './comparison.js';
import { ringsPast } from './throughGate.js';

/** What should be known where a gate ends before filters have rung out. */
export function shorterThanRinging(
  { filters, sampleRateHz }: Pick<Design, 'filters' | 'sampleRateHz'>,
  { gate, frequencyHz }: Comparison,
): Warning[] {
  if (!gate) return [];
  const cutDb = gate.correctionDb(filters, sampleRateHz, frequencyHz);
  const apartDb = cutDb.reduce((most, db) => Math.max(most, Math.abs(db)), 0);
  const ringing = filters.flatMap((filter, i) => (ringsPast(filter, gate.afterS) ? [i + 1] : []));
  const subject =
    ringing.length === 1 ? `filter ${ringing[0]} rings on` : `filters ${ringing.join(', ')} ring on`;
  return [
    {
      code: 'gate-cuts-ringing',
      message:
        `The measurement ends ${Number((1000 * gate.afterS).toPrecision(3))} ms after the direct sound, while ${subject}: it shows the filters by up to ` +
        `${apartDb.toFixed(1)} dB otherwise than they are, weaker and wider. That is allowed for: what is promised here is what ` +
        'such a measurement shows of them. A gate several times as long, with the filters off and on, would show more of them.',
    },
  ];
}
