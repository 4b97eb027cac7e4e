import type { ReadonlySignal } from '@preact/signals';
import { download } from '../sheet/download.js';
import { movedDesign, movedSmoothedDb } from '../state/elsewhere.js';
import { measuredAgain } from '../state/found.js';
import { project } from '../state/present.js';
import { shown } from '../state/shown.js';
import { notice } from '../state/told.js';
import { type Shows, shows, view, zoom } from './chartState.js';
import { combOfSelected } from './combOfSelected.js';
import { pageColors } from './figure.js';
import { maskEdges } from './maskEdges.js';
import { picture } from './picture.js';
import type { Plotting } from './plotly.js';

const CURVES: readonly (readonly [keyof Shows, string])[] = [
  ['raw', 'Measured'],
  ['smoothed', 'Smoothed'],
  ['target', 'Should be'],
  ['expected', 'Will be'],
  ['sum', 'All filters'],
  ['single', 'Each filter'],
];

/** Which curves are shown. */
export function Legend() {
  const drawn = shows.value;
  return (
    <fieldset class="legend">
      <legend class="unseen">Curves that are shown</legend>
      {CURVES.map(([key, words]) => (
        <label class={`key key-${key}`} key={key}>
          <input
            type="checkbox"
            checked={drawn[key]}
            onChange={({ currentTarget }) => {
              shows.value = { ...shows.peek(), [key]: currentTarget.checked };
            }}
          />
          <span class="swatch" aria-hidden="true" />
          {words}
        </label>
      ))}
      {measuredAgain.value && (
        <span class="key key-again">
          <span class="swatch" aria-hidden="true" /> Measured again
        </span>
      )}
      {movedSmoothedDb.value && (
        <span class="key key-there">
          <span class="swatch" aria-hidden="true" /> There, without filters
        </span>
      )}
      {movedSmoothedDb.value && movedDesign.value && (
        <span class="key key-there-after">
          <span class="swatch" aria-hidden="true" /> There, with filters
        </span>
      )}
      {shown.value && combOfSelected(shown.value) && (
        <span class="key key-comb">
          <span class="swatch" aria-hidden="true" /> This surface alone
        </span>
      )}
    </fieldset>
  );
}

/** Zoom and pictures. */
export function BoardTools(props: { readonly library: ReadonlySignal<Plotting | undefined> }) {
  const isEmpty = view.value === undefined;
  const canSave = props.library.value !== undefined && !isEmpty;
  const zoomBy = (factor: number) => {
    const now = view.peek();
    if (!now) return;
    const middle = Math.sqrt(now.fromHz * now.toHz);
    const half = Math.max(Math.SQRT2, Math.sqrt(now.toHz / now.fromHz) ** factor);
    const fromHz = Math.max(10, middle / half);
    const toHz = Math.min(40000, middle * half);
    zoom.value = { fromHz, toHz };
  };
  const shift = (octaves: number) => {
    const now = view.peek();
    if (now) zoom.value = { fromHz: now.fromHz * 2 ** octaves, toHz: now.toHz * 2 ** octaves };
  };
  async function save(format: 'png' | 'svg') {
    const design = shown.peek();
    const now = view.peek();
    const library = props.library.peek();
    if (!design || !now || !library) return;
    try {
      const drawn = {
        design,
        mask: maskEdges(project.peek().mask, design.curves),
        comb: combOfSelected(design),
        again: measuredAgain.peek(),
        thereDb: movedSmoothedDb.peek(),
        thereAfter: movedDesign.peek()?.curves,
      };
      const figure = picture(drawn, now, shows.peek(), pageColors());
      const { width, height } = figure;
      const url = await library.toImage(figure, { format, width, height, scale: 2 });
      download(
        `curves.${format}`,
        pictureBytes(url, format),
        format === 'png' ? 'image/png' : 'image/svg+xml',
      );
    } catch (error) {
      notice.value = `The picture could not be made: ${error instanceof Error ? error.message : String(error)}`;
    }
  }
  return (
    <div class="tools">
      <button type="button" class="small" disabled={isEmpty} onClick={() => zoomBy(0.6)} aria-label="Zoom in">
        +
      </button>
      <button
        type="button"
        class="small"
        disabled={isEmpty}
        onClick={() => zoomBy(1.6)}
        aria-label="Zoom out"
      >
        −
      </button>
      <button
        type="button"
        class="small"
        disabled={isEmpty}
        onClick={() => shift(-0.5)}
        aria-label="Show lower frequencies"
      >
        ←
      </button>
      <button
        type="button"
        class="small"
        disabled={isEmpty}
        onClick={() => shift(0.5)}
        aria-label="Show higher frequencies"
      >
        →
      </button>
      <button
        type="button"
        class="small"
        disabled={zoom.value === undefined}
        onClick={() => {
          zoom.value = undefined;
        }}
      >
        All
      </button>
      <button type="button" class="small" disabled={!canSave} onClick={() => save('png')}>
        Save PNG
      </button>
      <button type="button" class="small" disabled={!canSave} onClick={() => save('svg')}>
        Save SVG
      </button>
    </div>
  );
}

function pictureBytes(url: string, format: 'png' | 'svg'): Uint8Array<ArrayBuffer> {
  const data = url.slice(url.indexOf(',') + 1);
  if (format === 'svg') return new TextEncoder().encode(decodeURIComponent(data)) as Uint8Array<ArrayBuffer>;
  return Uint8Array.from(atob(data), (character) => character.charCodeAt(0));
}
