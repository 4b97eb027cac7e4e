import { placeFindings } from '../../src/export/plot/placeFindings.js';
import { numberedFindings } from '../../src/export/text/numberedFindings.js';
import { findingName, verdictWords } from '../../src/export/words/findingWords.js';
import { selectFinding } from '../state/selectFinding.js';
import { shown } from '../state/shown.js';
import { selectedHz } from './chartState.js';
import { type Frame, type View, xOf, yOf } from './frame.js';

const SIZE = 9;
const OFFSET = 15;

/** Numbers at the peaks and dips; a click shows what is known of one. Square: to be moved. */
export function FindingMarks({ frame, now }: { readonly frame: Frame; readonly now: View }) {
  const design = shown.value;
  if (!design) return null;
  const inSight = numberedFindings(design).filter(
    ({ finding: { frequencyHz } }) => frequencyHz >= now.fromHz && frequencyHz <= now.toHz,
  );
  const places = placeFindings(design, inSight, {
    x: (hz) => xOf(frame, now, hz),
    y: (db) => yOf(frame, now, db),
    offset: OFFSET,
    apart: 2 * SIZE + 1,
    top: frame.top,
    bottom: frame.middle,
  });
  return (
    <>
      {inSight.map(({ number, finding }, i) => {
        const { frequencyHz, verdict } = finding;
        const chosen = selectedHz.value === frequencyHz;
        const { x, y } = places[i]!;
        const pick = () => selectFinding(chosen ? undefined : frequencyHz, 'list');
        return (
          // biome-ignore lint/a11y/useSemanticElements: there are no buttons inside a drawing
          <g
            // Made anew with another verdict: a browser was seen to leave the number in the colour of its ground.
            key={`${frequencyHz} ${verdict}`}
            class={`finding-mark ${verdict} ${chosen ? 'chosen' : ''}`}
            role="button"
            tabindex={0}
            aria-pressed={chosen}
            aria-label={`Finding ${number}, ${findingName(finding)}: ${verdictWords(verdict)}`}
            onClick={pick}
            onKeyDown={(event) => {
              if (event.key !== 'Enter' && event.key !== ' ') return;
              event.preventDefault();
              pick();
            }}
          >
            {verdict === 'move' ? (
              <rect x={x - SIZE} y={y - SIZE} width={2 * SIZE} height={2 * SIZE} rx={2} />
            ) : (
              <circle cx={x} cy={y} r={SIZE} />
            )}
            <text x={x} y={y + 4} text-anchor="middle">
              {number}
            </text>
          </g>
        );
      })}
    </>
  );
}
