import { VerificationPlot } from '../../src/export/plot/VerificationPlot.js';
import { fixedDecimals } from '../../src/export/words/fixedDecimals.js';
import { isFarApart, promiseFigures, promiseWords } from '../../src/export/words/promiseWords.js';
import { typeset } from '../../src/export/words/typeset.js';
import type { Verification } from '../../src/schema/verification.js';
import { formatFrequency } from '../../src/units/formatFrequency.js';
import { narrow } from '../look/narrow.js';
import { lettered } from '../state/lettered.js';
import { CheckFiles } from './CheckFiles.js';
import { said } from './said.js';

/** Whether the speaker does with the filters what was promised, and what went wrong where it does not. */
export function AsPromised(props: {
  readonly verification: Verification;
  /** It is that of a saved design: its filters have numbers, and the chart shows another one or none. */
  readonly isSaved: boolean;
}) {
  const { verification, isSaved } = props;
  const named = isSaved ? said : (message: string) => said(lettered(message));
  const { asPromised, faults, octaves, warnings } = verification;
  const db = (value: number) => typeset(fixedDecimals(value, 1));
  return (
    <div class="verified">
      <p class={`verdict-line ${asPromised ? '' : 'warned'}`}>{said(promiseWords(verification))}</p>
      {faults.length > 0 && (
        <ol>
          {faults.map(({ message, fix }) => (
            <li key={message}>
              {named(message)} <b>What to do:</b> {named(fix)}
            </li>
          ))}
        </ol>
      )}
      {warnings.length > 0 && (
        <ul class="warnings">
          {warnings.map(({ code, message }) => (
            <li key={`${code} ${message}`}>{said(message)}</li>
          ))}
        </ul>
      )}
      {/* Where the chart shows what was measured again, only paper wants it. */}
      <div class={`drawn-check ${isSaved ? '' : 'paper-only'}`}>
        <VerificationPlot verification={verification} width={narrow.value ? 400 : 680} isBare />
      </div>
      <div class="scroll">
        <table class="numbers">
          <caption>
            {typeset(
              'What the filters add in each octave, in dB, level left out. Apart: RMS of measured less promised; usual: what noise and a microphone a few centimetres off leave.',
            )}
          </caption>
          <thead>
            <tr>
              {['Octave', 'Promised', 'Measured', 'Apart', 'Usual'].map((heading) => (
                <th scope="col" key={heading}>
                  {heading}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {octaves.map((row) => (
              <tr key={row.centreHz} class={isFarApart(row) ? 'far' : ''}>
                <th scope="row">{typeset(formatFrequency(row.centreHz))}</th>
                <td>{db(row.promisedDb)}</td>
                <td>{db(row.measuredDb)}</td>
                <td>
                  {isFarApart(row) && <span class="unseen">more than usual: </span>}
                  {db(row.differenceRmsDb)}
                </td>
                <td>{db(row.expectedRmsDb)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {promiseFigures(verification).map(([name, words]) => (
        <p key={name} class="soft">
          {name}: {named(words)}.
        </p>
      ))}
      <CheckFiles verification={verification} />
    </div>
  );
}
