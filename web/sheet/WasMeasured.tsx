import { cleanText } from '../../src/export/words/cleanText.js';
import { typeset } from '../../src/export/words/typeset.js';
import { removeFile, setRole } from '../intake/changeFiles.js';
import { isImpulseResponse, ROLES } from '../intake/roles.js';
import { readingOf } from '../state/found.js';
import { project } from '../state/present.js';
import { shown } from '../state/shown.js';
import type { FileRole, ProjectFile } from '../store/project.js';
import { CurveNumbers } from './CurveNumbers.js';
import { FileButton } from './FileButton.js';
import { keepPlace } from './keepPlace.js';
import { OptionInput } from './OptionInput.js';
import { ReadAs } from './ReadAs.js';
import { Step } from './Step.js';
import { said } from './said.js';

/** What was measured: files, what each is taken for, and the range that counts. */
export function WasMeasured() {
  const { files } = project.value;
  const design = shown.value;
  return (
    <Step
      id="measured"
      title="What was measured"
      lead={design?.rangeExplanation && said(design.rangeExplanation)}
    >
      <div class="dropzone">
        <FileButton class="strong" words="Add your own files" label="Files to add" />
        <p class="soft">
          or drop them anywhere on this page: measurements as text or as impulse responses (WAV), a microphone
          calibration, a set-up, an equalizer, a worksheet, or a saved design to check.
        </p>
      </div>
      {files.length > 0 && (
        <ul class="files">
          {files.map((file, i) => (
            <FileRow key={keyIn(files, i)} file={file} />
          ))}
        </ul>
      )}
      <details>
        <summary>Range and smoothing</summary>
        <div class="fields">
          <OptionInput field="from" hint="where the correction begins" otherwise="from the curve" />
          <OptionInput field="to" hint="where it ends" otherwise="from the curve" />
          <OptionInput field="smoothing" hint="octaves; the error is taken on the smoothed curve" />
        </div>
      </details>
      <CurveNumbers />
    </Step>
  );
}

/** The same while a file stays, and no two alike: one may have been given twice. */
function keyIn(files: readonly ProjectFile[], at: number): string {
  const keyOf = ({ name, content }: ProjectFile) => `${name} ${content.length}`;
  const key = keyOf(files[at]!);
  return `${key} ${files.slice(0, at).filter((file) => keyOf(file) === key).length}`;
}

function FileRow({ file }: { readonly file: ProjectFile }) {
  const reading = readingOf(file);
  return (
    <li class={reading?.problem ? 'bad' : ''}>
      <span class="file-name">{cleanText(file.name)}</span>
      <label>
        <span class="unseen">What {cleanText(file.name)} is</span>
        <select
          value={file.role}
          onChange={({ currentTarget }) => {
            const role = currentTarget.value as FileRole;
            // Until it has been read as that it is what it was.
            currentTarget.value = file.role;
            void setRole(file, role);
          }}
        >
          {ROLES.map(([role, words]) => (
            <option key={role} value={role}>
              {words}
            </option>
          ))}
        </select>
      </label>
      <button
        type="button"
        class="small"
        aria-label={`Take away ${cleanText(file.name)}`}
        data-removes
        onClick={({ currentTarget }) => void keepPlace(currentTarget, () => removeFile(file))}
      >
        Take away
      </button>
      {isImpulseResponse(file) && <ReadAs file={file} />}
      <span class="file-note">
        {reading?.problem ? said(reading.problem) : typeset(cleanText(reading?.summary ?? '…'))}
        {reading?.warnings.map((warning) => (
          <span key={warning} class="warned">
            {' '}
            {said(warning)}
          </span>
        ))}
      </span>
    </li>
  );
}
