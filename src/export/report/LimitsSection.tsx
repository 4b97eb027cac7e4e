import type { Design } from '../../schema/design.js';
import { formatFrequency } from '../../units/formatFrequency.js';
import { allowedLimit, askedWords } from '../words/allowedLimits.js';
import { boostWords } from '../words/boostWords.js';
import { cleanText } from '../words/cleanText.js';
import { errorPair } from '../words/errorPair.js';
import { formatDb, formatSignedDb } from '../words/formatDb.js';
import { formatSpan } from '../words/formatSpan.js';
import { limitWords } from '../words/limitWords.js';
import { smoothingWords } from '../words/smoothingWords.js';
import { typeset } from '../words/typeset.js';
import { DataTable } from './DataTable.js';

const ratio = (value: number) => String(Number(value.toPrecision(3)));

/** Error before and after, and what the fit was allowed beside what it used. */
export function LimitsSection({ design }: { readonly design: Design }) {
  const { error, errorWithZones, unevenness, limits, eq, filters, fit } = design;
  const qs = filters.map((filter) => filter.q);
  const gains = filters.map((filter) => filter.gainDb);
  const shelves = limits.maxShelfQ === undefined ? '' : `, shelves up to ${ratio(limits.maxShelfQ)}`;
  const [bands, minQ, maxQ] = [
    allowedLimit(design, 'bands'),
    allowedLimit(design, 'minQ'),
    allowedLimit(design, 'maxQ'),
  ];
  const atMost = (name: 'maxBoostDb' | 'maxCutDb') => {
    const limit = allowedLimit(design, name);
    return `at most ${formatDb(limit.value)}${askedWords(limit, formatDb)}`;
  };
  const errors = [
    {
      name: 'Unevenness: RMS, each about its own mean level',
      ...errorPair(unevenness.beforeRmsDb, unevenness.afterRmsDb),
    },
    { name: 'RMS about the target’s level', ...errorPair(error.beforeRmsDb, error.afterRmsDb) },
    { name: 'Greatest error about the target’s level', ...errorPair(error.beforeMaxDb, error.afterMaxDb) },
    {
      name: 'RMS, spans left alone counted too',
      ...errorPair(errorWithZones.beforeRmsDb, errorWithZones.afterRmsDb),
    },
    {
      name: 'Greatest, spans left alone counted too',
      ...errorPair(errorWithZones.beforeMaxDb, errorWithZones.afterMaxDb),
    },
  ];
  const limitRows: (readonly [string, string, string])[] = [
    ['Bands', `at most ${bands.value}${askedWords(bands, String)}`, String(filters.length)],
    ['Boost of all filters together', atMost('maxBoostDb'), boostWords(design)],
    [
      'Boost of one filter',
      atMost('maxBoostDb'),
      gains.some((gain) => gain > 0) ? formatDb(Math.max(...gains)) : 'none',
    ],
    [
      'Cut of one filter',
      atMost('maxCutDb'),
      gains.some((gain) => gain < 0) ? formatDb(-Math.min(...gains)) : 'none',
    ],
    [
      'Mean of the EQ over the range',
      `at least ${formatSignedDb(-limits.maxLevelLossDb)}`,
      formatSignedDb(eq.meanDb),
    ],
    [
      'Q',
      `${ratio(minQ.value)} to ${ratio(maxQ.value)}${
        minQ.asked === undefined && maxQ.asked === undefined
          ? ''
          : ` (the equalizer; ${ratio(limits.minQ)} to ${ratio(limits.maxQ)} asked for)`
      }${shelves}`,
      qs.length === 0 ? 'none' : `${ratio(Math.min(...qs))} to ${ratio(Math.max(...qs))}`,
    ],
  ];
  const column = (i: 0 | 1 | 2) => limitRows.map((row) => typeset(row[i]));
  return (
    <section id="limits">
      <h2>Error and limits</h2>
      <p>
        {typeset(
          `The error is the distance between the smoothed curve (${smoothingWords(limits.smoothingOctaves)}) and the target (${cleanText(design.target)}, level ${formatDb(design.levelDb)}) from ${formatSpan(design.range)}, every octave weighing the same.`,
        )}
      </p>
      {design.rangeExplanation === undefined ? null : <p>{typeset(cleanText(design.rangeExplanation))}</p>}
      <DataTable
        label="Error before and after"
        columns={[
          { heading: 'Error', cells: errors.map(({ name }) => name) },
          { heading: 'Before (dB)', align: 'right', cells: errors.map(({ before }) => before) },
          { heading: 'After (dB)', align: 'right', cells: errors.map(({ after }) => after) },
        ]}
      />
      <div style="height: 1.2rem" />
      <DataTable
        label="Limits allowed and used"
        columns={[
          { heading: 'Limit', cells: column(0) },
          { heading: 'Allowed', cells: column(1) },
          { heading: 'Used', cells: column(2) },
        ]}
      />
      <p style="margin-top: 0.9rem">
        {design.cornerHz === undefined
          ? null
          : `The speaker's lower corner lies at ${formatFrequency(design.cornerHz)}; below it a boost costs excursion and gains little. `}
        {`How the search ended: ${cleanText(fit.stopReason).replace(/\.$/, '')} (${fit.iterations} iterations, seed ${fit.seed}).`}
      </p>
      {fit.limitsReached.length === 0 ? null : (
        <>
          <p>Limits that the result touches:</p>
          <ul>
            {fit.limitsReached.map((limit) => (
              <li>{cleanText(limitWords(limit))}</li>
            ))}
          </ul>
        </>
      )}
    </section>
  );
}
