import { FileButton } from './FileButton.js';

/** What else a measurement with the filters in may be held against. */
export function CompareWith() {
  return (
    <details class="screen-only compare-with">
      <summary>Another microphone, or two speakers?</summary>
      <div data-takes="before">
        <p class="soft">
          What is promised starts from the curve that the filters were made from. With another microphone, on
          another day or at another place measure there without the filters too: then only what the filters do
          is compared.
        </p>
        <FileButton words="Add the same measured without filters" measuredAs="before" />
      </div>
      <div data-takes="other">
        <p class="soft">
          Whether left and right are exchanged can be told only with the other speaker: its design.json, or
          its measurement without filters.
        </p>
        <FileButton words="Add the other speaker" multiple={false} measuredAs="other" />
      </div>
    </details>
  );
}
