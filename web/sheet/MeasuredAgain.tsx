import { useSignalEffect } from '@preact/signals';
import { cleanText } from '../../src/export/words/cleanText.js';
import { joinWords } from '../../src/export/words/joinWords.js';
import { areReadApart } from '../intake/readAlike.js';
import { roleWords } from '../intake/roles.js';
import { verified } from '../state/found.js';
import { project } from '../state/present.js';
import { promised, promisedFile } from '../state/promised.js';
import { askBesides } from '../state/session.js';
import { isBehind, shown } from '../state/shown.js';
import { step } from '../state/told.js';
import type { FileRole } from '../store/project.js';
import { AsPromised } from './AsPromised.js';
import { CompareWith } from './CompareWith.js';
import { FileButton } from './FileButton.js';
import { SavedDesign } from './SavedDesign.js';
import { said } from './said.js';

const filesOf = (role: FileRole) => project.value.files.filter((file) => file.role === role);
const namesOf = (role: FileRole) => joinWords(filesOf(role).map(({ name }) => cleanText(name)));

/** Measurements taken with the filters in, held against what was promised. */
export function MeasuredAgain() {
  const names = namesOf('after');
  const beside = (['before', 'other'] as const)
    .map((role) => [roleWords(role), namesOf(role)] as const)
    .filter(([, others]) => others !== '');
  const saved = promisedFile.value;
  useSignalEffect(() => {
    const after = filesOf('after');
    const design = promisedFile.value ? promised.value : shown.value;
    const isPast = !promisedFile.value && isBehind.value;
    verified.value = undefined;
    const [before, [other], [calibration]] = [filesOf('before'), filesOf('other'), filesOf('calibration')];
    if (after.length > 0 && design && step.value === undefined && !isPast)
      askBesides({ kind: 'verify', design, after, before, other, calibration });
  });
  return (
    <div data-takes="after" class={names === '' ? 'screen-only' : ''}>
      <h3 id="measured-again">Measured again</h3>
      {names === '' ? (
        <p class="soft">
          {saved
            ? `${cleanText(saved.name)} is ready to be checked. Measure at the same places as it was made from, with its filters in,`
            : 'Once the filters are set, measure again at the same places, with the filters in,'}{' '}
          and add the files here, or drop them on this part: they are held against what was promised. Several
          are averaged, be they repeats or positions.
        </p>
      ) : verified.value ? (
        <>
          <p class="soft">
            Held against what {saved ? `${cleanText(saved.name)} promised` : 'was promised'}: {names}.
            {beside.map(([words, others]) => ` ${words}: ${others}.`)}
          </p>
          {'verification' in verified.value ? (
            <AsPromised verification={verified.value.verification} isSaved={saved !== undefined} />
          ) : (
            <p class="verified warned">{said(verified.value.problem)}</p>
          )}
        </>
      ) : saved ? (
        <Comparing names={names} isReady={promised.value !== undefined} />
      ) : isBehind.value ? (
        <p>What is shown is from before the last change, so {names} is not held against it.</p>
      ) : (
        <Comparing names={names} isReady={shown.value !== undefined || step.value !== undefined} />
      )}
      {areReadApart(project.value.files, promised.value) && (
        <p class="warned">
          “Counts” in the list of files is not the same for what is compared here: set it alike, or what is
          compared differs by the room.
        </p>
      )}
      <FileButton words="Add what was measured with the filters in" measuredAs="after" />
      <CompareWith />
      <SavedDesign />
    </div>
  );
}

function Comparing({ names, isReady }: { readonly names: string; readonly isReady: boolean }) {
  return (
    <p role="status">
      {isReady
        ? `Comparing ${names} …`
        : `There is nothing yet that ${names} could be held against: add what was measured without filters, or a saved design.`}
    </p>
  );
}
