import { filterTypeName } from '../../src/export/words/filterTypeName.js';
import { formatInputGain } from '../../src/export/words/formatInputGain.js';
import { typeset } from '../../src/export/words/typeset.js';
import type { FilterType } from '../../src/filter/filter.js';
import type { EffortName } from '../../src/fit/effort.js';
import type { Design } from '../../src/schema/design.js';
import { cursorHz, selectedFilter } from '../chart/chartState.js';
import { nudge } from '../chart/FilterMarks.js';
import {
  addFilter,
  editFilter,
  letterOf,
  lockFilter,
  refitRest,
  removeFilter,
  switchFilter,
  takeFitsFilters,
} from '../state/filterEdits.js';
import { chooseEffort } from '../state/optionEdits.js';
import { project } from '../state/present.js';
import { endOfGesture } from '../state/session.js';
import { bandsAllowed, filters, shown } from '../state/shown.js';
import { step } from '../state/told.js';
import type { ProjectFilter } from '../store/project.js';
import { DeviceChoice } from './DeviceChoice.js';
import { decimals } from './decimals.js';
import { filterWords } from './filterWords.js';
import { keepPlace } from './keepPlace.js';
import { MoreBands } from './MoreBands.js';
import { NumberCell } from './NumberCell.js';
import { OptionInput } from './OptionInput.js';
import { Step } from './Step.js';

/** What to set: filters, what limits them, and the equalizer that they are for. */
export function ToSet() {
  const design = shown.value;
  const list = filters.value;
  const heldCount = list.filter(({ locked }) => locked).length;
  const sounding = list.filter(({ on }) => on).length;
  return (
    <Step
      id="to-set"
      title="What to set"
      lead={
        design &&
        typeset(
          `${sounding} of ${bandsAllowed.value} bands, input gain ${formatInputGain(design.inputGainDb)} ahead of them, at ${design.sampleRateHz} Hz.`,
        )
      }
    >
      <DeviceChoice />
      <div class="scroll">
        <table class="numbers filters">
          <caption class="unseen">The filters</caption>
          <thead>
            <tr>
              <th scope="col">
                <span class="unseen">Filter</span>
              </th>
              <th scope="col">Type</th>
              <th scope="col" class="typed">
                Frequency (Hz)
              </th>
              <th scope="col" class="typed">
                Gain (dB)
              </th>
              <th scope="col" class="typed">
                Q
              </th>
              <th scope="col">On</th>
              <th scope="col">Hold</th>
              <th scope="col">
                <span class="unseen">Remove</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {list.map((each, i) => (
              <FilterRow key={i} index={i} each={each} />
            ))}
          </tbody>
        </table>
      </div>
      {design && <NearestValues design={design} list={list} />}
      {list.length === 0 && <p class="soft">{emptyWords(design)}</p>}
      <div class="row">
        <button
          type="button"
          disabled={!design}
          onClick={() => {
            const frequencyHz = cursorHz.peek() ?? 1000;
            addFilter({ type: 'peaking', frequencyHz, gainDb: -3, q: 2 });
            selectedFilter.value = filters.peek().length - 1;
          }}
        >
          Add a filter
        </button>
        <button
          type="button"
          class="strong"
          disabled={!design || heldCount === 0 || step.value !== undefined}
          onClick={refitRest}
        >
          Refit the rest
        </button>
        <button type="button" disabled={project.value.filters === undefined} onClick={takeFitsFilters}>
          The fit's own again
        </button>
      </div>
      <p class="soft screen-only">
        A filter that you touch is held: a refit works around it. On the chart pull its pennant, or use the
        arrow keys (with Shift in larger steps), Page Up and Down for Q, H to hold, O for off, Delete to
        remove.
      </p>
      <details open>
        <summary>Limits</summary>
        <div class="fields">
          <OptionInput field="bands" hint="filters at most" otherwise={String(bandsAllowed.value)} />
          <OptionInput field="maxBoost" hint="of each filter and of their sum" />
          <OptionInput field="maxCut" hint="of each filter" />
          <OptionInput field="maxLevelLoss" hint="how far the mean may fall" />
          <OptionInput field="qMin" hint="no wider than this" />
          <OptionInput field="qMax" hint="no narrower than this" />
          <OptionInput
            field="shelfQMax"
            hint="above 0.71 a shelf overshoots at both ends"
            otherwise="the greatest Q"
          />
          <OptionInput field="sampleRate" hint="at which the filters run" />
          <OptionInput
            field="repeatability"
            hint="dB RMS from one measurement to the next; no band is spent on less"
            otherwise={
              project.value.files.some(({ role }) => role === 'repeat') ? 'from the repeats' : 'not given'
            }
          />
          <OptionInput field="seed" hint="another one searches along other ways" />
          <div class="field">
            <label for="effort">Search</label>
            <select
              id="effort"
              aria-describedby="effort-hint"
              value={project.value.options.effort ?? 'normal'}
              onChange={({ currentTarget }) => chooseEffort(currentTarget.value as EffortName)}
            >
              <option value="quick">briefly</option>
              <option value="normal">as usual</option>
              <option value="thorough">long</option>
            </select>
            <span class="hint" id="effort-hint">
              longer finds a little more, mostly with many bands
            </span>
          </div>
        </div>
      </details>
      <MoreBands />
    </Step>
  );
}

function emptyWords(design: Design | undefined): string {
  if (!design) return 'Filters stand here once a measurement has been read.';
  return project.value.filters === undefined
    ? 'No filter is needed, or none is allowed.'
    : 'No filter is left; the button below brings those of the fit back.';
}

const near = (a: number, b: number) => Math.abs(a - b) <= 1e-4 * Math.abs(a) + 1e-9;

/** What an equalizer that has no such numbers is given for filters that were set by hand. */
function NearestValues({
  design,
  list,
}: {
  readonly design: Design;
  readonly list: readonly ProjectFilter[];
}) {
  const sounding = list.flatMap(({ filter, on }, i) => (on ? [{ filter, letter: letterOf(i) }] : []));
  if (!design.device || sounding.length !== design.filters.length) return null;
  const others = sounding.flatMap(({ filter, letter }, i) => {
    const nearest = design.filters[i]!;
    const isSame = (['frequencyHz', 'gainDb', 'q'] as const).every((name) =>
      near(nearest[name], filter[name]),
    );
    return isSame ? [] : [`${letter} ${filterWords(nearest)}`];
  });
  if (others.length === 0) return null;
  return (
    <p role="status">
      {typeset(
        `The equalizer's nearest values, to which all figures and files belong: ${others.join('; ')}.`,
      )}
    </p>
  );
}

const TYPES: readonly FilterType[] = ['peaking', 'lowShelf', 'highShelf'];

function FilterRow({ index, each }: { readonly index: number; readonly each: ProjectFilter }) {
  const { filter, locked, on } = each;
  const letter = letterOf(index);
  const tag = `filter ${index}`;
  const focus = () => {
    selectedFilter.value = index;
  };
  /** Up and down change a number where one stands, left and right stay with the text. */
  const steps = (field: 'frequencyHz' | 'gainDb' | 'q') => (event: KeyboardEvent) => {
    const direction = event.key === 'ArrowUp' ? 1 : event.key === 'ArrowDown' ? -1 : 0;
    if (direction === 0 || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    const key =
      field === 'frequencyHz'
        ? ['ArrowLeft', '', 'ArrowRight'][direction + 1]!
        : field === 'gainDb'
          ? event.key
          : ['PageDown', '', 'PageUp'][direction + 1]!;
    nudge(new KeyboardEvent('keydown', { key, shiftKey: event.shiftKey }), index, each, tag);
    endOfGesture();
  };
  return (
    <tr class={`${selectedFilter.value === index ? 'chosen' : ''} ${on ? '' : 'off'}`}>
      <th scope="row">
        <button
          type="button"
          class="letter"
          aria-label={`Show filter ${letter} on the chart`}
          onClick={focus}
        >
          {letter}
        </button>
      </th>
      <td>
        <select
          aria-label={`Type of filter ${letter}`}
          value={filter.type}
          onFocus={focus}
          onChange={({ currentTarget }) => editFilter(index, { type: currentTarget.value as FilterType })}
        >
          {TYPES.map((type) => (
            <option key={type} value={type}>
              {filterTypeName(type)}
            </option>
          ))}
        </select>
      </td>
      <td>
        <NumberCell
          label={`Frequency of filter ${letter}`}
          value={filter.frequencyHz}
          show={(hz) => `${Number(hz.toPrecision(5))}`}
          kind="frequency"
          take={(frequencyHz) => editFilter(index, { frequencyHz })}
          onFocus={focus}
          onKeyDown={steps('frequencyHz')}
        />
      </td>
      <td>
        <NumberCell
          label={`Gain of filter ${letter}`}
          value={filter.gainDb}
          show={(db) => decimals(db, 1, 2)}
          kind="gain"
          take={(gainDb) => editFilter(index, { gainDb })}
          onFocus={focus}
          onKeyDown={steps('gainDb')}
        />
      </td>
      <td>
        <NumberCell
          label={`Q of filter ${letter}`}
          value={filter.q}
          show={(q) => decimals(q, 2, 3)}
          kind="ratio"
          take={(q) => editFilter(index, { q })}
          onFocus={focus}
          onKeyDown={steps('q')}
        />
      </td>
      <td>
        <input
          type="checkbox"
          aria-label={`Filter ${letter} is on`}
          checked={on}
          onChange={({ currentTarget }) => switchFilter(index, currentTarget.checked)}
        />
      </td>
      <td>
        <input
          type="checkbox"
          aria-label={`Hold filter ${letter}`}
          checked={locked}
          onChange={({ currentTarget }) => lockFilter(index, currentTarget.checked)}
        />
      </td>
      <td>
        <button
          type="button"
          class="small"
          aria-label={`Remove filter ${letter}`}
          data-removes
          onClick={({ currentTarget }) => void keepPlace(currentTarget, () => removeFilter(index))}
        >
          ×
        </button>
      </td>
    </tr>
  );
}
