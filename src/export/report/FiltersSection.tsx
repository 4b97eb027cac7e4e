import type { Design } from '../../schema/design.js';
import { designColumns } from '../tables/designColumns.js';
import { deviceCostWords, deviceQWords } from '../words/deviceWords.js';
import { formatInputGain } from '../words/formatInputGain.js';
import { NO_FILTERS } from '../words/noFilters.js';
import { qConventionWords } from '../words/qConventionWords.js';
import { typeset } from '../words/typeset.js';
import { DataTable } from './DataTable.js';

/** What to enter, and how. */
export function FiltersSection({ design }: { readonly design: Design }) {
  const device = deviceCostWords(design);
  const entered = deviceQWords(design);
  const inputGain = typeset(formatInputGain(design.inputGainDb));
  if (design.filters.length === 0) {
    return (
      <section id="filters">
        <h2>Filters</h2>
        <p>{NO_FILTERS}</p>
      </section>
    );
  }
  return (
    <section id="filters">
      <h2>Filters</h2>
      <dl class="settings">
        {device === undefined ? null : (
          <>
            <dt>Device</dt>
            <dd>{typeset(device)}</dd>
          </>
        )}
        <dt>Input gain</dt>
        <dd>{inputGain}</dd>
        <dt>Sample rate</dt>
        <dd>{`${design.sampleRateHz} Hz`}</dd>
        <dt>Meaning of Q</dt>
        <dd>{qConventionWords}</dd>
        {entered === undefined ? null : (
          <>
            <dt>To enter</dt>
            <dd>{entered}</dd>
          </>
        )}
      </dl>
      <DataTable
        label="Filters"
        columns={designColumns(design).map(({ heading, cells, align }) => ({
          heading,
          align,
          cells: cells.map(typeset),
        }))}
      />
      <h3 style="margin: 1.2rem 0 0.5rem">How to enter them</h3>
      <ol>
        <li>Turn the playback level down.</li>
        <li>
          {`Set the gain ahead of the filters to ${inputGain}. If your equalizer has no such control, take the same amount off the signal that goes into it.`}
        </li>
        <li>
          Enter each row as one band: type, frequency, gain, Q. The order does not matter. Leave the bands
          that remain at 0 dB or switched off.
        </li>
        <li>
          {`The numbers hold at a sample rate of ${design.sampleRateHz} Hz. At another rate the filters above a few kilohertz come out a little different: design anew for it.`}
        </li>
        <li>
          Makers do not all mean the same by Q, above all for shelves. If yours documents another meaning, or
          asks for a bandwidth or slope instead, convert first.
        </li>
        <li>
          Bring the level up slowly and measure again with the microphone in the same place: the curve should
          follow the line called "Expected with the filters".
        </li>
      </ol>
    </section>
  );
}
