import { ErrorCurvePlot } from '../../src/export/plot/ErrorCurvePlot.js';
import { kneeWords } from '../../src/export/remains/remainsWords.js';
import { capitalized } from '../../src/export/words/capitalized.js';
import { typeset } from '../../src/export/words/typeset.js';
import { curveDue } from '../state/found.js';
import { complete } from '../state/shown.js';

/** What more bands would bring, or fewer cost. It follows the filters, which do not wait for it. */
export function MoreBands() {
  const design = complete.value;
  if (!design) return null;
  const words = kneeWords(design);
  if (words === undefined && !curveDue.value) return null;
  return (
    <details open id="more-bands">
      <summary>Would more bands help, or fewer do?</summary>
      {words === undefined ? (
        <p class="soft coming">Being worked out.</p>
      ) : (
        <>
          <p>{typeset(`${capitalized(words)}.`)}</p>
          <div class="small-plot">
            <ErrorCurvePlot design={design} />
          </div>
        </>
      )}
    </details>
  );
}
