import { pow2 } from '../../elementary/exponential.js';
import type { Design } from '../../schema/design.js';
import { type NumberedFinding, numberedFindings } from '../text/numberedFindings.js';
import { capitalized } from '../words/capitalized.js';
import { cleanText } from '../words/cleanText.js';
import {
  adviceWords,
  causeWords,
  findingName,
  sureWords,
  verdictWords,
  zoneWords,
} from '../words/findingWords.js';
import { fixedDecimals } from '../words/fixedDecimals.js';
import { formatSignedDb } from '../words/formatDb.js';
import { formatSpan } from '../words/formatSpan.js';
import { typeset } from '../words/typeset.js';

function FindingCard({ number, finding }: NumberedFinding) {
  const half = pow2(finding.widthOctaves / 2);
  const span = { fromHz: finding.frequencyHz / half, toHz: finding.frequencyHz * half };
  const held = zoneWords(finding);
  return (
    <article class={`card ${finding.verdict}`}>
      <header>
        <span class="mark">{number}</span>
        <h3>{capitalized(findingName(finding))}</h3>
        <span class="verdict">{verdictWords(finding.verdict)}</span>
      </header>
      <dl>
        <dt>What</dt>
        <dd>
          {typeset(`${formatSignedDb(finding.levelDb)} against its surroundings; ${causeWords(finding)}`)}
        </dd>
        <dt>Where</dt>
        <dd>
          {typeset(
            `${formatSpan(span)} (${fixedDecimals(finding.widthOctaves, 2)} octave)${held === undefined ? '' : `; the EQ ${held}`}`,
          )}
        </dd>
        <dt>How sure</dt>
        <dd>{capitalized(sureWords(finding))}</dd>
        <dt>Why</dt>
        <dd>
          {finding.evidence.length === 0 ? (
            'No evidence was given.'
          ) : (
            <ul>
              {finding.evidence.map((sentence) => (
                <li>{typeset(cleanText(sentence))}</li>
              ))}
            </ul>
          )}
        </dd>
        <dt>What to do</dt>
        <dd>{typeset(adviceWords(finding))}</dd>
      </dl>
    </article>
  );
}

/** Every finding: what, where, how sure, why, what to do. Those that nobody need act on are folded. */
export function FindingsSection({ design }: { readonly design: Design }) {
  const numbered = numberedFindings(design);
  const acting = numbered.filter(({ finding }) => finding.verdict !== 'leave');
  const left = numbered.filter(({ finding }) => finding.verdict === 'leave');
  return (
    <section id="findings">
      <h2>What was found</h2>
      {numbered.length === 0 ? <p>No peak or dip stands out from the curve's own trend.</p> : null}
      <div class="cards">
        {acting.map((item) => (
          <FindingCard {...item} />
        ))}
      </div>
      {design.notes === undefined ? null : (
        <>
          <h3>The speaker as a whole</h3>
          <ul>
            {design.notes.map((note) => (
              <li>{typeset(cleanText(note))}</li>
            ))}
          </ul>
        </>
      )}
      {left.length === 0 ? null : (
        <details>
          <summary>{`Left as they are: ${left.length}`}</summary>
          <div class="cards">
            {left.map((item) => (
              <FindingCard {...item} />
            ))}
          </div>
        </details>
      )}
    </section>
  );
}
