import { useSignalEffect } from '@preact/signals';
import { cleanText } from '../../src/export/words/cleanText.js';
import { askBesides, isBehind, project, shown, step, verified } from '../state/session.js';

/** A measurement taken with the filters in, held against what was promised. */
export function MeasuredAgain() {
  const after = project.value.files.find(({ role }) => role === 'after');
  useSignalEffect(() => {
    const file = project.value.files.find(({ role }) => role === 'after');
    const design = shown.value;
    verified.value = undefined;
    const calibration = project.value.files.find(({ role }) => role === 'calibration');
    if (file && design && step.value === undefined && !isBehind.value)
      askBesides({ kind: 'verify', design, after: file, calibration });
  });
  return (
    <>
      <h3>Measured again</h3>
      {after === undefined ? (
        <p class="soft">
          Once the filters are set, measure again at the same place and drop the file here as “Measured with
          the filters in”: it is held against what was promised.
        </p>
      ) : verified.value ? (
        <pre class={`verified ${verified.value.asPromised ? '' : 'warned'}`}>
          {verified.value.words.split('\n').map(cleanText).join('\n')}
        </pre>
      ) : isBehind.value ? (
        <p>
          What is shown is from before the last change, so {cleanText(after.name)} is not held against it.
        </p>
      ) : (
        <p role="status">Comparing {cleanText(after.name)} …</p>
      )}
    </>
  );
}
