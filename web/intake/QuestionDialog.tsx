import { useEffect, useRef } from 'preact/hooks';
import { question } from './question.js';

/** One question that has to be answered before the sheet goes on; Escape leaves out what it is about. */
export function QuestionDialog() {
  const dialog = useRef<HTMLDialogElement>(null);
  const chosen = useRef<unknown>(undefined);
  const asked = question.value;
  useEffect(() => {
    chosen.current = undefined;
    if (asked) dialog.current?.showModal();
  }, [asked]);
  if (!asked) return null;
  const { title, choices, answer } = asked;
  // Closed first, so that the focus goes back to where it was.
  const choose = (value: unknown) => {
    chosen.current = value;
    dialog.current?.close();
  };
  return (
    <dialog
      ref={dialog}
      class="question"
      aria-labelledby="question-title"
      onClose={() => answer(chosen.current)}
      onKeyDown={(event) => {
        // What was done before is not undone while something is asked.
        if (event.ctrlKey || event.metaKey) event.stopPropagation();
      }}
    >
      <h2 id="question-title">{title}</h2>
      <ul>
        {choices.map(({ title: words, note, value }, i) => (
          <li key={words}>
            <button type="button" aria-describedby={`question-note-${i}`} onClick={() => choose(value)}>
              {words}
            </button>
            <span class="soft" id={`question-note-${i}`}>
              {note}
            </span>
          </li>
        ))}
      </ul>
      <button type="button" class="small" onClick={() => choose(undefined)}>
        Leave it out
      </button>
    </dialog>
  );
}
