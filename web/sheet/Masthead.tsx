import { type ReadonlySignal, useSignal } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { isSimulated } from '../../src/export/report/isSimulated.js';
import { cleanText } from '../../src/export/words/cleanText.js';
import { conclusion } from '../../src/export/words/conclusion.js';
import { promiseWords } from '../../src/export/words/promiseWords.js';
import { typeset } from '../../src/export/words/typeset.js';
import { dark, theme } from '../look/theme.js';
import { cutShort, outcome, verified } from '../state/found.js';
import { canRedo, canUndo, project, UNTITLED } from '../state/present.js';
import { promised, promisedFile } from '../state/promised.js';
import { cancelSearch, change, redoChange, searchAgain, undoChange } from '../state/session.js';
import { filterProblem, isBehind, isStoppedEmpty, shown } from '../state/shown.js';
import { notice, problems, refused, step } from '../state/told.js';
import { sheetWords } from '../work/sheetWords.js';
import { Entry } from './Entry.js';
import { ProjectMenu } from './ProjectMenu.js';
import { said } from './said.js';

/** Name, conclusion, and what can be done at any time. */
export function Masthead() {
  const header = useRef<HTMLElement>(null);
  const away = useSignal(false);
  useEffect(() => {
    const watch = new IntersectionObserver(([entry]) => {
      away.value = !entry!.isIntersecting;
    });
    watch.observe(header.current!);
    return () => watch.disconnect();
  }, []);
  const design = shown.value;
  const untitled = project.value.name === UNTITLED;
  const about = design ?? promised.value;
  const simulated = about !== undefined && isSimulated(about);
  return (
    <header class="masthead" ref={header}>
      <div class="top-line">
        <p class="brand">
          <span aria-hidden="true" class="brand-mark" /> Nullwise worksheet
        </p>
        <p
          class={`working ${!step.value && haltedWords() !== undefined ? 'halted' : ''}`}
          role="status"
          aria-live="polite"
        >
          {step.value && (
            <>
              <span class="pulse" aria-hidden="true" /> {step.value} …{' '}
              <button type="button" class="small" onClick={cancelSearch}>
                Stop
              </button>
            </>
          )}
          <Halted />
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
            placeholder={cleanText(about?.title ?? UNTITLED)}
            commit={(typed) => {
              const name = typed.trim();
              change('rename the worksheet', (value) => ({
                ...value,
                name: name === '' ? UNTITLED : name,
              }));
              return true;
            }}
          />
          {/* A field cuts off what is too long for it. */}
          <span class="paper-only" aria-hidden="true">
            {untitled ? cleanText(about?.title ?? UNTITLED) : project.value.name}
          </span>
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
              : isStoppedEmpty.value
                ? 'Nothing was found before the search was stopped.'
                : promisedFile.value
                  ? savedWords()
                  : project.value.files.length > 0
                    ? 'None of the files is taken as “Measured here”: add a measurement, or say below which one it is.'
                    : 'Drop a measurement anywhere on this page to begin.'}
      </p>
      <Told away={away} />
    </header>
  );
}

/** Where nothing is designed here: what a saved design's check says. */
function savedWords(): ComponentChildren {
  const check = verified.value;
  if (check && 'problem' in check) return said(check.problem);
  const there = <a href="#measured-again">“Measured again”</a>;
  if (check)
    return (
      <>
        {said(promiseWords(check.verification))} All of it stands under {there}.
      </>
    );
  return project.value.files.some(({ role }) => role === 'after') ? (
    'Comparing …'
  ) : (
    <>A saved design is to be checked: under {there} add what was measured with its filters in.</>
  );
}

/** What was not taken, and what was last said; it follows who is farther down on the page than the masthead. */
function Told({ away }: { readonly away: ReadonlySignal<boolean> }) {
  const seen = useSignal<string | undefined>(undefined);
  const dismissible = [...refused.value, ...problems.value];
  const told = [
    ...new Set([
      ...dismissible,
      ...(filterProblem.value
        ? [`${filterProblem.value}; until then the figures are those of the fit's own filters`]
        : []),
    ]),
  ];
  const isFresh = dismissible.length > 0 || filterProblem.value !== seen.value || notice.value !== undefined;
  const isAfloat = away.value && isFresh;
  if (told.length === 0 && notice.value === undefined) return null;
  return (
    <div class={isAfloat ? 'afloat' : ''}>
      {told.length > 0 && (
        <div class="problems" role="alert">
          <b>Not taken:</b>
          <ul>
            {told.map((problem) => (
              <li key={problem}>{typeset(sheetWords(problem))}</li>
            ))}
          </ul>
          {(dismissible.length > 0 || isAfloat) && (
            <button
              type="button"
              class="small"
              onClick={() => {
                problems.value = [];
                refused.value = [];
                seen.value = filterProblem.value;
              }}
            >
              Understood
            </button>
          )}
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
    </div>
  );
}

/** What is shown is not what a whole search would give: how that came, and how to go on. */
function Halted() {
  const words = haltedWords();
  if (step.value || words === undefined) return null;
  return (
    <>
      {words}{' '}
      <button type="button" class="small" onClick={searchAgain}>
        {isBehind.value && !cutShort.value ? 'Try again' : 'Search on'}
      </button>
    </>
  );
}

function haltedWords(): string | undefined {
  if (isStoppedEmpty.value) return 'The search was stopped.';
  if (isBehind.value)
    return `${cutShort.value ? 'The search was stopped' : 'Something stands in the way'}: what is shown is from before the last change.`;
  if (cutShort.value && outcome.value && !outcome.value.whole)
    return 'The search was stopped: this is a first look.';
  return undefined;
}
