import { cleanText } from '../../src/export/cleanText.js';
import { conclusion } from '../../src/export/conclusion.js';
import { isSimulated } from '../../src/export/report/isSimulated.js';
import { typeset } from '../../src/export/typeset.js';
import { dark, theme } from '../look/theme.js';
import {
  cancelSearch,
  canRedo,
  canUndo,
  change,
  cutShort,
  filterProblem,
  notice,
  outcome,
  problems,
  project,
  redoChange,
  refused,
  searchAgain,
  shown,
  step,
  UNTITLED,
  undoChange,
} from '../state/session.js';
import { Entry } from './Entry.js';
import { ProjectMenu } from './ProjectMenu.js';

/** Name, conclusion, and what can be done at any time. */
export function Masthead() {
  const design = shown.value;
  const told = [
    ...new Set([...refused.value, ...problems.value, ...(filterProblem.value ? [filterProblem.value] : [])]),
  ];
  const untitled = project.value.name === UNTITLED;
  const simulated = design !== undefined && isSimulated(design);
  return (
    <header class="masthead">
      <div class="top-line">
        <p class="brand">
          <span aria-hidden="true" class="brand-mark" /> Nullwise worksheet
        </p>
        <p class="working" role="status" aria-live="polite">
          {step.value && (
            <>
              <span class="pulse" aria-hidden="true" /> {step.value} …{' '}
              <button type="button" class="small" onClick={cancelSearch}>
                Stop
              </button>
            </>
          )}
          {!step.value && cutShort.value && outcome.value && !outcome.value.whole && (
            <>
              The search was stopped: this is a first look.{' '}
              <button type="button" class="small" onClick={searchAgain}>
                Search on
              </button>
            </>
          )}
        </p>
        <div class="top-tools">
          <button
            type="button"
            class="small"
            disabled={!canUndo.value}
            onClick={undoChange}
            title={canUndo.value}
          >
            Undo
          </button>
          <button
            type="button"
            class="small"
            disabled={!canRedo.value}
            onClick={redoChange}
            title={canRedo.value}
          >
            Redo
          </button>
          <button
            type="button"
            class="small"
            onClick={() => {
              theme.value = dark.value ? 'light' : 'dark';
            }}
          >
            {dark.value ? 'Light' : 'Dark'}
          </button>
          <ProjectMenu />
        </div>
      </div>
      <div class="name-line">
        <h1>
          <label class="unseen" for="worksheet-name">
            Name of this worksheet
          </label>
          <Entry
            id="worksheet-name"
            class="title"
            maxLength={200}
            value={untitled ? '' : project.value.name}
            placeholder={cleanText(design?.title ?? UNTITLED)}
            commit={(typed) => {
              const name = typed.trim();
              change('rename the worksheet', (value) => ({
                ...value,
                name: name === '' ? UNTITLED : name,
              }));
              return true;
            }}
          />
        </h1>
        {simulated && <p class="stamp">Simulated: no real speaker or room</p>}
      </div>
      <p class="conclusion" id="conclusion">
        {design
          ? typeset(conclusion(design))
          : problems.value.length > 0
            ? 'Something stands in the way; see below.'
            : step.value
              ? 'Working it out …'
              : 'Drop a measurement anywhere on this page to begin.'}
      </p>
      {told.length > 0 && (
        <div class="problems" role="alert">
          <b>Not taken:</b>
          <ul>
            {told.map((problem) => (
              <li key={problem}>{typeset(problem)}</li>
            ))}
          </ul>
          <button
            type="button"
            class="small"
            onClick={() => {
              problems.value = [];
              refused.value = [];
            }}
          >
            Understood
          </button>
        </div>
      )}
      {notice.value !== undefined && (
        <p class="notice" role="status">
          {notice.value}{' '}
          <button
            type="button"
            class="small"
            onClick={() => {
              notice.value = undefined;
            }}
          >
            Close
          </button>
        </p>
      )}
    </header>
  );
}
