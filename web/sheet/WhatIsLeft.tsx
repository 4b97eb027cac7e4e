import { errorParts } from '../../src/export/remains/errorParts.js';
import { leftOverWords, positionsWords, repeatabilityWords } from '../../src/export/remains/remainsWords.js';
import { capitalized } from '../../src/export/words/capitalized.js';
import { cleanText } from '../../src/export/words/cleanText.js';
import { typeset } from '../../src/export/words/typeset.js';
import type { Design } from '../../src/schema/design.js';

/** What the error that is left consists of, and how each position fares. */
export function WhatIsLeft({ design }: { readonly design: Design }) {
  const { total, parts } = errorParts(design);
  const left = leftOverWords(design);
  const worst = positionsWords(design);
  const repeats = repeatabilityWords(design);
  if (left === undefined && worst === undefined && repeats === undefined) return null;
  return (
    <>
      <h3>What is left, and why</h3>
      {parts.length < 2 ? (
        left !== undefined && <p>{typeset(`${capitalized(left)}.`)}</p>
      ) : (
        <table class="numbers parts">
          <caption>What remains, in dB RMS; each part is what it adds to those above.</caption>
          <tbody>
            {parts.map(({ db, words }) => (
              <tr key={words}>
                <th scope="row">{typeset(capitalized(words.replace(/^that/, 'what')))}</th>
                <td>{db}</td>
              </tr>
            ))}
            <tr>
              <th scope="row">All that is left</th>
              <td>{total}</td>
            </tr>
          </tbody>
        </table>
      )}
      {design.positions && (
        <table class="numbers parts">
          <caption>{typeset(`${capitalized(worst ?? '')}.`)}</caption>
          <thead>
            <tr>
              <th scope="col">Position</th>
              <th scope="col">Before (dB)</th>
              <th scope="col">After (dB)</th>
            </tr>
          </thead>
          <tbody>
            {design.positions.each.map(({ name, beforeRmsDb, afterRmsDb }, i) => (
              <tr key={i}>
                <th scope="row">{cleanText(name)}</th>
                <td>{beforeRmsDb.toFixed(1)}</td>
                <td>{afterRmsDb.toFixed(1)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {repeats !== undefined && <p>{typeset(`The measurement repeats ${repeats}.`)}</p>}
    </>
  );
}
