import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { cleanText } from '../../src/export/words/cleanText.js';
import {
  forget,
  keptId,
  keptProjects,
  openDemo,
  openEmpty,
  openFromList,
  refreshList,
  saveState,
} from '../state/keeping.js';
import { project, UNTITLED } from '../state/present.js';
import { worksheetName } from '../state/shown.js';
import type { ProjectHead } from '../store/projectRecords.js';
import { projectText } from '../store/projectText.js';
import { download } from './download.js';
import { FileButton } from './FileButton.js';
import { fileStem } from './fileStem.js';
import { keepPlace } from './keepPlace.js';

function savedWords(): string {
  const state = saveState.value;
  if (!state) return 'Nothing to keep yet.';
  if (state.kind === 'saving') return 'Keeping it …';
  if (state.kind === 'failed') return state.message;
  return 'Kept in this browser.';
}

function fold(list: HTMLDetailsElement): void {
  list.open = false;
  list.querySelector('summary')?.focus();
}

/** Opens another worksheet, from under the list. */
function turnTo(within: Element, open: () => Promise<void>): void {
  const list = within.closest('details');
  if (list) fold(list);
  void open();
}

/** Worksheets kept in this browser and as files. */
export function ProjectMenu() {
  const list = useRef<HTMLDetailsElement>(null);
  useEffect(() => {
    // It lies over the sheet: who turns back to that is done with it.
    const leave = ({ target }: PointerEvent) => {
      if (list.current && target instanceof Node && !list.current.contains(target)) list.current.open = false;
    };
    document.addEventListener('pointerdown', leave);
    return () => document.removeEventListener('pointerdown', leave);
  }, []);
  return (
    <details
      ref={list}
      class="menu"
      onKeyDown={(event) => {
        if (event.key === 'Escape') fold(event.currentTarget);
      }}
      onToggle={({ currentTarget }) => {
        // Another window may have kept or removed some.
        if (currentTarget.open) void refreshList();
      }}
    >
      <summary>Worksheets</summary>
      <div class="menu-body">
        <p class={saveState.value?.kind === 'failed' ? 'bad' : 'soft'}>{savedWords()}</p>
        <button
          type="button"
          onClick={() =>
            download(
              `${fileStem(worksheetName.value)}.nullwise.json`,
              projectText(project.value),
              'application/json',
            )
          }
        >
          Save as a file
        </button>
        <FileButton
          words="Open a file"
          label="Worksheet file"
          accept=".json,application/json"
          multiple={false}
        />
        <button type="button" onClick={({ currentTarget }) => turnTo(currentTarget, openEmpty)}>
          New, empty
        </button>
        <button type="button" onClick={({ currentTarget }) => turnTo(currentTarget, openDemo)}>
          The demo
        </button>
        {keptProjects.value.length > 0 && (
          <ul class="kept">
            {keptProjects.value.map((head) => (
              <Kept key={head.id} head={head} />
            ))}
          </ul>
        )}
      </div>
    </details>
  );
}

/** One of the worksheets; since nothing brings back what was removed, that is asked for twice. */
function Kept({ head: { id, name, about, savedAtMs } }: { readonly head: ProjectHead }) {
  const isSure = useSignal(false);
  const called = cleanText(name === UNTITLED ? (about ?? name) : name);
  return (
    <li>
      <button
        type="button"
        class="linklike"
        aria-current={id === keptId.value}
        onClick={({ currentTarget }) => turnTo(currentTarget, () => openFromList(id))}
      >
        {called}
      </button>
      <span class="soft"> {new Date(savedAtMs).toLocaleString()} </span>
      <button
        type="button"
        class="small"
        aria-label={`${isSure.value ? 'Remove for good' : 'Remove'}: ${called}`}
        onBlur={() => {
          isSure.value = false;
        }}
        data-removes
        onClick={({ currentTarget }) => {
          if (isSure.value) void keepPlace(currentTarget, () => forget(id));
          isSure.value = !isSure.value;
        }}
      >
        {isSure.value ? 'Remove for good' : 'Remove'}
      </button>
    </li>
  );
}
