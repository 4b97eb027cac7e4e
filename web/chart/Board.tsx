import { useComputed, useSignal, useSignalEffect } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { formatFrequency } from '../../src/units/formatFrequency.js';
import { dark } from '../look/theme.js';
import { outcome } from '../state/found.js';
import { BoardTools, Legend } from './BoardTools.js';
import { cursorHz, shows, view, zoneAt, zoom } from './chartState.js';
import { layoutOf, pageColors, restingTraces } from './figure.js';
import { frameOf, hzAt } from './frame.js';
import { Overlay } from './Overlay.js';
import { PaperChart } from './PaperChart.js';
import { loadPlotting, type PlotElement, type Plotting } from './plotly.js';
import { ReadOut } from './ReadOut.js';

const CONFIG = { displayModeBar: false, responsive: false, doubleClick: 'reset', showTips: false };

/** The chart: what rests is drawn by the plotting library, what moves under the hand by the page itself. */
export function Board() {
  const box = useRef<HTMLDivElement>(null);
  const plot = useRef<HTMLDivElement>(null);
  /** What the library has drawn. */
  const drawn = useRef('');
  const size = useSignal({ width: 0, height: 0 });
  const library = useSignal<Plotting | undefined>(undefined);
  const trouble = useSignal<string | undefined>(undefined);
  const frame = useComputed(() => frameOf(size.value.width, size.value.height));

  useEffect(() => {
    const element = box.current!;
    const watch = new ResizeObserver(() => {
      const { clientWidth: width, clientHeight: height } = element;
      if (width !== size.peek().width || height !== size.peek().height) size.value = { width, height };
    });
    watch.observe(element);
    const later = requestAnimationFrame(() =>
      setTimeout(() => {
        loadPlotting().then(
          (loaded) => {
            library.value = loaded;
          },
          (error: Error) => {
            trouble.value = error.message;
          },
        );
      }),
    );
    return () => {
      watch.disconnect();
      cancelAnimationFrame(later);
    };
  }, []);

  useSignalEffect(() => {
    const loaded = library.value;
    const design = outcome.value?.design;
    const shown = view.value;
    const element = plot.current;
    dark.value; // colours are read anew
    const { width, height } = size.value;
    if (!loaded || !design || !shown || !element || Math.min(width, height) < 60) return;
    const touch = matchMedia('(pointer: coarse)').matches;
    const colors = pageColors();
    const traces = restingTraces(design, shows.value, colors);
    const layout = layoutOf(frame.value, shown, colors, touch);
    // A refit mostly leaves the measurement and the axes as they are, and drawing them anew takes a tenth of a second.
    const figure = JSON.stringify([traces, layout]);
    if (drawn.current === figure) return;
    drawn.current = figure;
    void loaded.react(element, traces, layout, CONFIG).then(listen);
  });

  function listen(element: PlotElement) {
    if (element.dataset.drawn) return;
    element.dataset.drawn = 'yes';
    element.on('plotly_relayout', (change) => {
      const from = change['xaxis.range[0]'];
      const to = change['xaxis.range[1]'];
      if (typeof from === 'number' && typeof to === 'number')
        zoom.value = { fromHz: 10 ** from, toHz: 10 ** to };
      else if (change['xaxis.autorange'] || change['xaxis.range']) zoom.value = undefined;
    });
    element.on('plotly_doubleclick', () => {
      zoom.value = undefined;
    });
  }

  function follow(event: PointerEvent) {
    const shown = view.peek();
    if (!shown || !box.current) return;
    const x = event.clientX - box.current.getBoundingClientRect().left;
    const { left, right } = frame.peek();
    if (x < left || x > right) return;
    const hz = hzAt(frame.peek(), shown, x);
    cursorHz.value = hz;
    const zone = outcome.peek()?.design.zones.find(({ fromHz, toHz }) => hz >= fromHz && hz <= toHz);
    zoneAt.value = zone?.fromHz;
  }

  const design = outcome.value?.design;
  const range = design && `${formatFrequency(design.range.fromHz)} to ${formatFrequency(design.range.toHz)}`;
  return (
    <section class={`board ${design ? '' : 'empty'}`} aria-labelledby="board-title">
      <header>
        <h2 id="board-title">The curves</h2>
        <Legend />
      </header>
      <div
        class="board-box"
        ref={box}
        onPointerMove={follow}
        onPointerLeave={() => {
          zoneAt.value = undefined;
        }}
      >
        <div
          class={`plot ${design ? '' : 'blank'}`}
          ref={plot}
          role="img"
          aria-label={
            range
              ? `Measured curve, fitted from ${range}. The numbers stand in the table below the chart.`
              : 'No curve yet'
          }
        />
        {trouble.value !== undefined && (
          <p class="board-note">The grid and the raw curve are missing: {trouble.value}.</p>
        )}
        <Overlay frame={frame} />
      </div>
      <ReadOut />
      <BoardTools library={library} />
      <PaperChart />
    </section>
  );
}
