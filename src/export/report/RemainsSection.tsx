import type { Design } from '../../schema/design.js';
import { ErrorCurvePlot } from '../plot/ErrorCurvePlot.js';
import { errorParts } from '../remains/errorParts.js';
import { kneeWords, leftOverWords, positionsWords, repeatabilityWords } from '../remains/remainsWords.js';
import { capitalized } from '../words/capitalized.js';
import { cleanText } from '../words/cleanText.js';
import { typeset } from '../words/typeset.js';
import { DataTable } from './DataTable.js';

/** What the error that is left consists of, and what would change it: limits, bands, device, positions. */
export function RemainsSection({ design }: { readonly design: Design }) {
  const { bound, errorAgainstBands, positions } = design;
  if (!bound && !errorAgainstBands && !positions) return null;
  const { total, parts } = errorParts(design);
  const left = leftOverWords(design);
  const knee = kneeWords(design);
  const worst = positionsWords(design);
  const repeats = repeatabilityWords(design);
  return (
    <section id="remains">
      <h2>What remains, and why</h2>
      {parts.length < 2 ? (
        left !== undefined && <p>{typeset(`Left with the filters in: ${left}.`)}</p>
      ) : (
        <>
          <p>
            {typeset(
              `With the filters in, ${total} dB RMS of error are left. The parts add up to it, each being what it adds to those above.`,
            )}
          </p>
          <DataTable
            label="Parts of the error that remains"
            columns={[
              {
                heading: 'Part',
                cells: [
                  ...parts.map(({ words }) => capitalized(words.replace(/^that/, 'what'))),
                  'All that is left',
                ],
              },
              { heading: 'RMS (dB)', align: 'right', cells: [...parts.map(({ db }) => db), total] },
            ]}
          />
        </>
      )}
      {knee !== undefined && (
        <>
          <h3 style="margin: 1.2rem 0 0.5rem">Would more bands help, or fewer do?</h3>
          <p>{typeset(`${capitalized(knee)}.`)}</p>
          <figure class="small-plot">
            <ErrorCurvePlot design={design} />
            <figcaption>
              From a short search of each number under the same limits
              {design.device ? ', before rounding to the equalizer' : ''}; a whole fit comes out about there.
            </figcaption>
          </figure>
        </>
      )}
      {positions && worst !== undefined && (
        <>
          <h3 style="margin: 1.2rem 0 0.5rem">At each position</h3>
          <p>{typeset(`${capitalized(worst)}.`)}</p>
          <DataTable
            label="Unevenness at each position"
            columns={[
              {
                heading: 'Position',
                cells: positions.each.map(({ name }) => (
                  <span style="overflow-wrap: anywhere">{cleanText(name)}</span>
                )),
              },
              {
                heading: 'Before (dB)',
                align: 'right',
                cells: positions.each.map(({ beforeRmsDb }) => beforeRmsDb.toFixed(1)),
              },
              {
                heading: 'After (dB)',
                align: 'right',
                cells: positions.each.map(({ afterRmsDb }) => afterRmsDb.toFixed(1)),
              },
            ]}
          />
        </>
      )}
      {repeats !== undefined && (
        <p style="margin-top: 0.9rem">{typeset(`The measurement repeats ${repeats}.`)}</p>
      )}
    </section>
  );
}
