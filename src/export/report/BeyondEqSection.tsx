import type { Design } from '../../schema/design.js';
import { adviceWords, causeWords, findingName } from '../findingWords.js';
import { numberedFindings } from '../numberedFindings.js';
import { typeset } from '../typeset.js';

/** What no equalizer can mend: this speaker's own cases first, then what always holds. */
export function BeyondEqSection({ design }: { readonly design: Design }) {
  const moves = numberedFindings(design).filter(({ finding }) => finding.verdict === 'move');
  return (
    <section id="beyond">
      <h2>What EQ cannot mend</h2>
      {moves.length === 0 ? null : (
        <ul>
          {moves.map(({ number, finding }) => (
            <li>
              <strong>{`The ${findingName(finding)}`}</strong>
              {typeset(` (no. ${number}, ${causeWords(finding.cause)}): ${adviceWords(finding)}`)}
            </li>
          ))}
        </ul>
      )}
      <ul>
        <li>
          A cancellation. Where a reflection arrives upside down, a boost makes the direct sound and the
          reflection louder alike, so most of it is lost; it costs headroom, and it becomes a peak for whoever
          sits elsewhere.
        </li>
        <li>
          Bass below the speaker's corner. More gain there makes excursion and distortion before it makes
          level.
        </li>
        <li>
          What differs from seat to seat. One set of filters serves one place; average several microphone
          positions for a wider one.
        </li>
        <li>How long a room rings, how loud it is by itself, noise, rattles and distortion.</li>
      </ul>
    </section>
  );
}
