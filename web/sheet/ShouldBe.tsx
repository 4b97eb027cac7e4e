import { typeset } from '../../src/export/words/typeset.js';
import type { Aim } from '../../src/fit/fitPositions.js';
import { formatFrequency } from '../../src/units/formatFrequency.js';
import { chooseAim } from '../state/optionEdits.js';
import { project } from '../state/present.js';
import { shown } from '../state/shown.js';
import {
  addBreakpoint,
  beginDrawing,
  editBreakpoint,
  endDrawing,
  removeBreakpoint,
} from '../state/targetEdits.js';
import { decimals } from './decimals.js';
import { keepPlace } from './keepPlace.js';
import { MaskEditor } from './MaskEditor.js';
import { NumberCell } from './NumberCell.js';
import { OptionInput } from './OptionInput.js';
import { Step } from './Step.js';

/** What it should be: the target's shape, and how near is near enough. */
export function ShouldBe() {
  const design = shown.value;
  const { target } = project.value.options;
  const positions = project.value.files.filter(({ role }) => role === 'position').length;
  const drawn = target !== undefined && target !== 'flat' ? target.breakpoints : undefined;
  return (
    <Step
      id="should-be"
      title="What it should be"
      lead={design && typeset(`Aimed at: ${design.target}, at ${design.levelDb.toFixed(1)} dB.`)}
    >
      <div class="fields">
        <OptionInput field="bassShelf" hint="raises (or lowers) the bass" />
        <OptionInput field="bassShelfFrequency" hint="where the shelf has half its gain" />
        <OptionInput field="tilt" hint="dB per octave; negative falls toward the treble" />
        <OptionInput field="level" hint="on the measurement's own scale" otherwise="chosen" />
      </div>
      {positions > 1 && (
        <div class="field wide spaced">
          <label for="aim">Of the {positions} positions, serve</label>
          <select
            id="aim"
            value={project.value.options.aim ?? 'mean'}
            onChange={({ currentTarget }) => chooseAim(currentTarget.value as Aim)}
          >
            <option value="mean">their average</option>
            <option value="worst">the worst of them</option>
          </select>
          <span class="hint">the worst gets better at the cost of the others</span>
        </div>
      )}
      {drawn ? (
        <>
          <table class="numbers">
            <caption>Corners of the drawn target; they can be pulled on the chart too.</caption>
            <thead>
              <tr>
                <th scope="col" class="typed">
                  Frequency
                </th>
                <th scope="col" class="typed">
                  Level (dB)
                </th>
                <th scope="col">
                  <span class="unseen">Remove</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {drawn.map(({ frequency, level }, i) => (
                <tr key={i}>
                  <td>
                    <NumberCell
                      label={`Frequency of corner ${i + 1}`}
                      value={frequency}
                      show={formatFrequency}
                      kind="frequency"
                      take={(hz) => editBreakpoint(i, { frequency: hz })}
                    />
                  </td>
                  <td>
                    <NumberCell
                      label={`Level of corner ${i + 1}`}
                      value={level}
                      show={(db) => decimals(db, 1, 2)}
                      kind="gain"
                      take={(db) => editBreakpoint(i, { level: db })}
                    />
                  </td>
                  <td>
                    <button
                      type="button"
                      class="small"
                      aria-label={`Remove corner ${i + 1}`}
                      data-removes
                      onClick={({ currentTarget }) =>
                        void keepPlace(currentTarget, () => removeBreakpoint(i))
                      }
                    >
                      Remove
                    </button>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
          <div class="row">
            <button type="button" onClick={addBreakpoint}>
              Add a corner
            </button>
            <button type="button" onClick={endDrawing}>
              Flat again
            </button>
          </div>
        </>
      ) : (
        <button type="button" onClick={beginDrawing}>
          Draw it on the chart
        </button>
      )}
      <MaskEditor />
    </Step>
  );
}
