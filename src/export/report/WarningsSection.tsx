import type { Design } from '../../schema/design.js';
import { cautions } from '../words/cautions.js';
import { cleanText } from '../words/cleanText.js';
import { toldWarnings } from '../words/toldWarnings.js';
import { typeset } from '../words/typeset.js';

/** What the design warns of. */
export function WarningsSection({ design }: { readonly design: Design }) {
  return (
    <section id="warnings">
      <h2>Warnings</h2>
      {design.warnings.length === 0 ? (
        <p>None.</p>
      ) : (
        <ul class="warnings">
          {toldWarnings(design.warnings, 'above, under "What EQ cannot mend"').map((warning) => (
            <li>
              {`${typeset(cleanText(warning.message))} `}
              <span class="code">{cleanText(warning.code)}</span>
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

/** The usual cautions. */
export function CautionsSection() {
  return (
    <section id="cautions" class="cautions">
      <h2>Cautions</h2>
      <ul>
        {cautions.map((caution) => (
          <li>
            <strong>{`${caution.title}. `}</strong>
            {caution.text}
          </li>
        ))}
      </ul>
    </section>
  );
}
