import { boostWords } from '../../src/export/words/boostWords.js';
import { errorPair } from '../../src/export/words/errorPair.js';
import { formatDb } from '../../src/export/words/formatDb.js';
import { formatInputGain } from '../../src/export/words/formatInputGain.js';
import { toldWarnings } from '../../src/export/words/toldWarnings.js';
import { typeset } from '../../src/export/words/typeset.js';
import '../listen/listen.css';
import { Listen } from '../listen/Listen.js';
import { promisedFile } from '../state/promised.js';
import { shown } from '../state/shown.js';
import { Guard } from './Guard.js';
import { MeasuredAgain } from './MeasuredAgain.js';
import { Step } from './Step.js';
import { said } from './said.js';
import { WhatIsLeft } from './WhatIsLeft.js';

/** What that will give: figures, and what to be wary of. */
export function WillGive() {
  const design = shown.value;
  if (!design) {
    return (
      <Step id="will-give" title="What that will give">
        {!promisedFile.value && <p class="soft">Figures stand here once filters have been fitted.</p>}
        <MeasuredAgain />
      </Step>
    );
  }
  const { unevenness, error, errorWithZones, eq, inputGainDb } = design;
  const pair = (before: number, after: number) => {
    const words = errorPair(before, after);
    return `${words.before} → ${words.after} dB`;
  };
  const figures: readonly (readonly [string, string, string])[] = [
    ['Unevenness', pair(unevenness.beforeRmsDb, unevenness.afterRmsDb), 'RMS about its own mean'],
    [
      'Error',
      pair(error.beforeRmsDb, error.afterRmsDb),
      'RMS distance from what it should be, spans left alone not counted',
    ],
    [
      'Error, all of it',
      pair(errorWithZones.beforeRmsDb, errorWithZones.afterRmsDb),
      'RMS, spans left alone counted too',
    ],
    ['Greatest error', pair(error.beforeMaxDb, error.afterMaxDb), 'anywhere that counts'],
    ['Most boost', boostWords(design), 'of all filters together'],
    [
      'Loudness',
      `${formatDb(eq.meanDb)}${inputGainDb < 0 ? `, and ${formatInputGain(inputGainDb)} at the input` : ''}`,
      'mean over the range',
    ],
  ];
  return (
    <Step id="will-give" title="What that will give">
      <dl class="figures">
        {figures.map(([name, value, note]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{typeset(value)}</dd>
            <dd class="soft">{note}</dd>
          </div>
        ))}
      </dl>
      <WhatIsLeft design={design} />
      {design.warnings.length > 0 && (
        <>
          <h3>To be wary of</h3>
          <ul class="warnings">
            {toldWarnings(design.warnings, 'above, under “What is wrong, and why”').map(
              ({ code, message }) => (
                <li key={`${code} ${message}`}>{said(message)}</li>
              ),
            )}
          </ul>
        </>
      )}
      <h3 class="screen-only">Hear it</h3>
      <Guard what="Listening">
        <Listen filters={design.filters} designRateHz={design.sampleRateHz} />
      </Guard>
      <MeasuredAgain />
    </Step>
  );
}
