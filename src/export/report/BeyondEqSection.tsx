import type { Finding } from '../../diagnosis/verdict/finding.js';
import type { Design } from '../../schema/design.js';
import { formatFrequency } from '../../units/formatFrequency.js';
import { numberedFindings } from '../text/numberedFindings.js';
import { cleanText } from '../words/cleanText.js';
import { adviceForAll, causeName, causeWords, findingName } from '../words/findingWords.js';
import { joinWords } from '../words/joinWords.js';
import { movesByCause } from '../words/movesByCause.js';
import { typeset } from '../words/typeset.js';

function names(alike: readonly Finding[]): string {
  const [first] = alike;
  if (alike.length === 1) return findingName(first!);
  return `${first!.kind}s at ${joinWords(alike.map(({ frequencyHz }) => formatFrequency(frequencyHz)))}`;
}

const cause = (alike: readonly Finding[]): string =>
  alike.length === 1 ? causeWords(alike[0]!) : causeName(alike[0]!.cause);

/** What no equalizer can mend: this speaker's own cases first, then what always holds. */
export function BeyondEqSection({ design }: { readonly design: Design }) {
  const numbers = new Map(numberedFindings(design).map(({ number, finding }) => [finding, number]));
  const moves = movesByCause(design.findings);
  const surfaces = [...new Set(moves.flatMap(([first]) => first?.cause.surface ?? []))];
  return (
    <section id="beyond">
      <h2>What EQ cannot mend</h2>
      {moves.length === 0 ? null : (
        <ul>
          {moves.map((alike) => (
            <li>
              <strong>{`The ${names(alike)}`}</strong>
              {typeset(
                ` (no. ${joinWords(alike.map((finding) => String(numbers.get(finding))))}, ${cause(alike)}): ${adviceForAll(alike)}`,
              )}
            </li>
          ))}
        </ul>
      )}
      {surfaces.length === 0 ? null : (
        <p>
          To compare places of the speaker by a forecast of the whole curve: <code>nullwise predict</code>{' '}
          with the same measurements, <code>--setup</code> with the same set-up, and{' '}
          {surfaces.map((name, i) => [
            i === 0 ? '' : i === surfaces.length - 1 ? ' and ' : ', ',
            <code>--vary</code>,
            ` "${cleanText(name)}"`,
          ])}
          , one at a time. It rates places nearer to the surface as well, and may name another than the
          example above, which follows one dip only.
        </p>
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
