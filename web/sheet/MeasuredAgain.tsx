import { useSignalEffect } from '@preact/signals';
import { cleanText } from '../../src/export/words/cleanText.js';
import { joinWords } from '../../src/export/words/joinWords.js';
import { areReadApart } from '../intake/readAlike.js';
import { roleWords } from '../intake/roles.js';
import { verified } from '../state/found.js';
import { project } from '../state/present.js';
import { askBesides } from '../state/session.js';
import { isBehind, shown } from '../state/shown.js';
import { step } from '../state/told.js';
import type { FileRole } from '../store/project.js';
import { AsPromised } from './AsPromised.js';
import { CompareWith } from './CompareWith.js';
import { FileButton } from './FileButton.js';
import { said } from './said.js';

const filesOf = (role: FileRole) => project.value.files.filter((file) => file.role === role);
const namesOf = (role: FileRole) => joinWords(filesOf(role).map(({ name }) => cleanText(name)));

/** Measurements taken with the filters in, held against what was promised. */
export function MeasuredAgain() {
  const names = namesOf('after');
  const beside = (['before', 'other'] as const)
    .map((role) => [roleWords(role), namesOf(role)] as const)
    .filter(([, others]) => others !== '');
  useSignalEffect(() => {
    const after = filesOf('after');
    const design = shown.value;
    verified.value = undefined;
    const [before, [other], [calibration]] = [filesOf('before'), filesOf('other'), filesOf('calibration')];
    if (after.length > 0 && design && step.value === undefined && !isBehind.value)
      askBesides({ kind: 'verify', design, after, before, other, calibration });
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
          <p class="soft">
            Held against what was promised: {names}.{beside.map(([words, others]) => ` ${words}: ${others}.`)}
          </p>
          {'verification' in verified.value ? (
            <AsPromised verification={verified.value.verification} />
          ) : (
            <p class="verified warned">{said(verified.value.problem)}</p>
          )}
        </>
      ) : isBehind.value ? (
        <p>What is shown is from before the last change, so {names} is not held against it.</p>
      ) : (
        <p role="status">Comparing {names} …</p>
      )}
      {areReadApart(project.value.files) && (
        <p class="warned">
          “Counts” in the list of files is not the same for what is compared here: set it alike, or what is
          compared differs by the room.
        </p>
      )}
      <FileButton words="Add what was measured with the filters in" measuredAs="after" />
      <CompareWith />
    </div>
  );
}
