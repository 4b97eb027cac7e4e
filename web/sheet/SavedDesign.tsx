import { cleanText } from '../../src/export/words/cleanText.js';
import { formatInputGain } from '../../src/export/words/formatInputGain.js';
import type { Design } from '../../src/schema/design.js';
import { promised } from '../state/promised.js';
import { shown } from '../state/shown.js';
import { FileButton } from './FileButton.js';
import { FilterList } from './FilterList.js';

/** Filters that were designed earlier, to be checked without what they were made from. */
export function SavedDesign() {
  const design = promised.value;
  return (
    <>
      {design && <ItsFilters design={design} />}
      <details class="screen-only compare-with" open={shown.value === undefined}>
        <summary>{design ? 'Another saved design?' : 'Filters that were designed earlier?'}</summary>
        <div data-takes="promised">
          <p class="soft">
            {design
              ? 'It takes the place of this one.'
              : 'Their design.json is enough to check them: what is measured with the filters in is held against what that design promised. The earlier measurement need not be there.'}
          </p>
          <FileButton words="Add a saved design" multiple={false} measuredAs="promised" />
        </div>
      </details>
    </>
  );
}

function ItsFilters({ design }: { readonly design: Design }) {
  const { title, inputGainDb, sampleRateHz } = design;
  return (
    <details class="its-filters on-paper">
      <summary>The filters of the saved design</summary>
      <FilterList
        design={design}
        caption={`${cleanText(title)}: input gain ${formatInputGain(inputGainDb)} ahead of them, at ${sampleRateHz} Hz.`}
      />
    </details>
  );
}
