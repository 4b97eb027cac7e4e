import { download } from './download.js';

/** How a file has to look that is written by hand. */
export function ExampleFile(props: {
  readonly summary: string;
  readonly name: string;
  readonly text: string;
  /** What to mind in it. */
  readonly words: string;
}) {
  const { summary, name, text, words } = props;
  return (
    <details class="screen-only example">
      <summary>{summary}</summary>
      <p class="soft">{words}</p>
      <pre>{text}</pre>
      <button type="button" onClick={() => download(name, text, 'application/json')}>
        Save it to fill in
      </button>
    </details>
  );
}
