import type { Verdict } from '../../src/diagnosis/verdict/finding.js';
import { type NumberedFinding, numberedFindings } from '../../src/export/text/numberedFindings.js';
import { capitalized } from '../../src/export/words/capitalized.js';
import {
  adviceWords,
  causeWords,
  findingName,
  sureWords,
  verdictWords,
  zoneWords,
} from '../../src/export/words/findingWords.js';
import { formatSignedDb } from '../../src/export/words/formatDb.js';
import { typeset } from '../../src/export/words/typeset.js';
import { selectedHz } from '../chart/chartState.js';
import { overrule, overruleOf } from '../state/overrules.js';
import { selectFinding } from '../state/selectFinding.js';
import { setup, shown } from '../state/shown.js';
import { Entry } from './Entry.js';
import { Step } from './Step.js';
import { said } from './said.js';

function leadOf(numbered: readonly NumberedFinding[]): string {
  const count = (verdict: Verdict) => numbered.filter(({ finding }) => finding.verdict === verdict).length;
  const parts = [
    count('move') > 0 ? `${count('move')} only moving things can mend` : '',
    count('equalize') > 0 ? `${count('equalize')} the filters can mend` : '',
    count('leave') > 0 ? `${count('leave')} better left as they are` : '',
  ].filter((part) => part !== '');
  return parts.length === 0 ? 'No peak or dip stands out.' : `Peaks and dips found: ${parts.join(', ')}.`;
}

/** What is wrong and why: the findings, each with its evidence and a way to disagree. */
export function WrongAndWhy() {
  const design = shown.value;
  if (!design) {
    return (
      <Step id="wrong" title="What is wrong, and why">
        <p class="soft">Findings stand here once a measurement has been read.</p>
      </Step>
    );
  }
  const numbered = numberedFindings(design);
  return (
    <Step id="wrong" title="What is wrong, and why" lead={leadOf(numbered)}>
      <ol class="findings">
        {numbered.map((each) => (
          <FindingRow key={each.finding.frequencyHz} {...each} />
        ))}
      </ol>
      {design.notes && (
        <>
          <h3>The speaker as a whole</h3>
          {design.notes.map((note) => (
            <p key={note}>{said(note)}</p>
          ))}
        </>
      )}
    </Step>
  );
}

function FindingRow({ number, finding }: NumberedFinding) {
  const { frequencyHz, levelDb, verdict, cause, evidence } = finding;
  const held = zoneWords(finding);
  const chosen = selectedHz.value === frequencyHz;
  const byHand = overruleOf(finding);
  const hasComb = setup.value?.surfaces.some(({ name }) => name === cause.surface);
  const body = `finding-${number}`;
  return (
    <li class={`finding ${verdict} ${chosen ? 'chosen' : ''}`} data-finding={frequencyHz}>
      <button
        type="button"
        class="finding-head"
        aria-expanded={chosen}
        aria-controls={body}
        onClick={() => selectFinding(chosen ? undefined : frequencyHz, 'chart')}
      >
        <span class="mark" aria-hidden="true">
          {number}
        </span>
        <span class="finding-name">
          {typeset(`${capitalized(findingName(finding))}, ${formatSignedDb(levelDb)}`)}
          <span class="soft"> {typeset(causeWords(finding))}</span>
        </span>
        <span class="verdict">
          {verdictWords(verdict)}
          {byHand && ' (by hand)'}
        </span>
      </button>
      <div class="finding-body" id={body} hidden={!chosen}>
        <p>
          <b>{typeset(adviceWords(finding))}</b>
        </p>
        <p class="soft">
          {capitalized(sureWords(finding))}.{held !== undefined && typeset(` The EQ ${held}.`)}
          {chosen && hasComb && ' The dotted curve on the chart is the comb that this surface would draw.'}
        </p>
        <ul>
          {evidence.map((sentence) => (
            <li key={sentence}>{said(sentence)}</li>
          ))}
        </ul>
        {chosen && <Disagree finding={finding} />}
      </div>
    </li>
  );
}

const CHOICES: readonly (readonly [Verdict | '', string])[] = [
  ['', 'as found'],
  ['move', 'move, do not boost'],
  ['equalize', 'mend by EQ'],
  ['leave', 'leave it alone'],
];

function Disagree({ finding }: { readonly finding: NumberedFinding['finding'] }) {
  const byHand = overruleOf(finding);
  return (
    <div class="disagree">
      <label>
        Your verdict
        <select
          value={byHand?.verdict ?? ''}
          onChange={({ currentTarget }) =>
            overrule(finding, (currentTarget.value || undefined) as Verdict | undefined, byHand?.note ?? '')
          }
        >
          {CHOICES.map(([value, words]) => (
            <option key={value} value={value}>
              {words}
            </option>
          ))}
        </select>
      </label>
      {byHand && (
        <>
          <label for="why">Why</label>
          <Entry
            id="why"
            maxLength={2000}
            value={byHand.note}
            placeholder="a note for later"
            commit={(note) => {
              overrule(finding, byHand.verdict, note);
              return true;
            }}
          />
        </>
      )}
    </div>
  );
}
