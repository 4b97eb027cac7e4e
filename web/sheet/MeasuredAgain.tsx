import { useSignalEffect } from '@preact/signals';
import { cleanText } from '../../src/export/words/cleanText.js';
import { joinWords } from '../../src/export/words/joinWords.js';
import { areReadApart } from '../intake/readAlike.js';
import { verified } from '../state/found.js';
import { project } from '../state/present.js';
import { askBesides } from '../state/session.js';
import { isBehind, shown } from '../state/shown.js';
import { step } from '../state/told.js';
import { AsPromised } from './AsPromised.js';
import { FileButton } from './FileButton.js';

const afterFiles = () => project.value.files.filter(({ role }) => role === 'after');

/** Measurements taken with the filters in, held against what was promised. */
export function MeasuredAgain() {
  const names = joinWords(afterFiles().map(({ name }) => cleanText(name)));
  useSignalEffect(() => {
    const after = afterFiles();
    const design = shown.value;
    verified.value = undefined;
    const calibration = project.value.files.find(({ role }) => role === 'calibration');
    if (after.length > 0 && design && step.value === undefined && !isBehind.value)
      askBesides({ kind: 'verify', design, after, calibration });
  });
  return (
    <div data-takes="after" class={names === '' ? 'screen-only' : ''}>
      <h3>Measured again</h3>
      {names === '' ? (
        <p class="soft">
          Once the filters are set, measure again at the same places, with the filters in, and add the files
          here, or drop them on this part: they are held against what was promised. Several are averaged, be
          they repeats or positions.
        </p>
      ) : verified.value ? (
        <>
          <p class="soft">Held against what was promised: {names}.</p>
          {'verification' in verified.value ? (
            <AsPromised verification={verified.value.verification} />
          ) : (
            <p class="verified warned">{cleanText(verified.value.problem)}</p>
          )}
        </>
      ) : isBehind.value ? (
        <p>What is shown is from before the last change, so {names} is not held against it.</p>
      ) : (
        <p role="status">Comparing {names} …</p>
      )}
      {areReadApart(project.value.files) && (
        <p class="warned">
          “Counts” in the list of files is not the same for what was measured with the filters in and without:
          set it alike, or the two differ by the room.
        </p>
      )}
      <FileButton words="Add what was measured with the filters in" measuredAs="after" />
    </div>
  );
}
