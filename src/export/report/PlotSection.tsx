import type { Design } from '../../schema/design.js';
import { BeforeAfterPlot } from '../plot/BeforeAfterPlot.js';
import { formatSpan } from '../words/formatSpan.js';
import { joinWords } from '../words/joinWords.js';
import { typeset } from '../words/typeset.js';
import { CurveTable } from './CurveTable.js';

/** The interactive plot; where it cannot run, and on paper, the drawing. The same as a table below. */
export function PlotSection({ design }: { readonly design: Design }) {
  const spans = joinWords(design.zones.map(formatSpan));
  return (
    <section id="response">
      <h2>Before and after</h2>
      <figure id="plot-figure">
        <div
          id="plot"
          role="img"
          aria-label="Interactive plot of the response before and after and of the EQ; the table below holds its numbers"
        />
        <div class="still">
          <BeforeAfterPlot design={design} />
        </div>
        <figcaption>
          {typeset(`Fitted from ${formatSpan(design.range)}. `)}
          {spans === ''
            ? null
            : typeset(`The EQ leaves ${spans} alone (shaded), and the error does not count there. `)}
          Numbers mark the findings below: squares want moving, circles do not.
        </figcaption>
      </figure>
      <CurveTable design={design} />
    </section>
  );
}
