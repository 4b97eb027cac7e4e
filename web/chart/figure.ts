import { frequencyTicks } from '../../src/export/plot/frequencyTicks.js';
import type { Design } from '../../src/schema/design.js';
import type { Shows } from './chartState.js';
import type { Frame, View } from './frame.js';

/** Colours of the page, as its style sheet has them for light, dark and paper. */
export interface Colors {
  readonly ink: string;
  readonly soft: string;
  readonly faint: string;
  readonly grid: string;
  readonly sheet: string;
  readonly measured: string;
  readonly smoothed: string;
  readonly target: string;
  readonly expected: string;
  readonly eq: string;
  readonly elsewhere: string;
  readonly comb: string;
  readonly again: string;
  readonly veil: string;
}

const NAMES: readonly (keyof Colors)[] = [
  'ink',
  'soft',
  'faint',
  'grid',
  'sheet',
  'measured',
  'smoothed',
  'target',
  'expected',
  'eq',
  'elsewhere',
  'comb',
  'again',
  'veil',
];

export function pageColors(): Colors {
  const style = getComputedStyle(document.documentElement);
  return Object.fromEntries(
    NAMES.map((name) => [name, style.getPropertyValue(`--${name}`).trim()]),
  ) as unknown as Colors;
}

export const line = (
  x: readonly number[],
  y: ArrayLike<number>,
  color: string,
  width: number,
  more: object = {},
) => ({
  type: 'scatter',
  mode: 'lines',
  x,
  y: Array.from(y),
  line: { color, width, simplify: false, ...more },
  hoverinfo: 'skip',
  showlegend: false,
});

/** What stands still: the measurement. */
export function restingTraces({ curves }: Design, shows: Shows, colors: Colors): object[] {
  return [
    ...(shows.raw ? [line(curves.frequencyHz, curves.measuredDb, colors.measured, 1)] : []),
    ...(shows.smoothed ? [line(curves.frequencyHz, curves.smoothedDb, colors.smoothed, 2)] : []),
    // The library draws no panel that has no curve.
    { ...line([curves.frequencyHz[0]!, curves.frequencyHz.at(-1)!], [0, 0], colors.faint, 1), yaxis: 'y2' },
  ];
}

export function layoutOf(frame: Frame, view: View, colors: Colors, touch: boolean): object {
  const { width, height, left, right, top, middle, lower, bottom } = frame;
  const plot = bottom - top;
  const axis = {
    gridcolor: colors.grid,
    linecolor: colors.faint,
    showline: true,
    mirror: true,
    zeroline: false,
    ticks: 'outside',
    ticklen: 4,
    tickcolor: colors.faint,
    automargin: false,
  };
  const narrow = width < 520;
  const ticks = narrow ? frequencyTicks.filter(({ label }) => !/^5/.test(label)) : frequencyTicks;
  const span = view.highDb - view.lowDb;
  return {
    width,
    height,
    margin: { l: left, r: width - right, t: top, b: height - bottom, pad: 0 },
    autosize: false,
    paper_bgcolor: colors.sheet,
    plot_bgcolor: colors.sheet,
    font: { color: colors.soft, family: 'system-ui, "Liberation Sans", sans-serif', size: narrow ? 11 : 12 },
    showlegend: false,
    hovermode: false,
    dragmode: touch ? false : 'zoom',
    xaxis: {
      ...axis,
      type: 'log',
      anchor: 'y2',
      range: [Math.log10(view.fromHz), Math.log10(view.toHz)],
      ...(view.toHz / view.fromHz > 20
        ? { tickvals: ticks.map(({ hz }) => hz), ticktext: ticks.map(({ label }) => label) }
        : { nticks: 8, tickformat: '~s' }),
      title: { text: 'Frequency (Hz)', standoff: 4 },
    },
    yaxis: {
      ...axis,
      domain: [1 - (middle - top) / plot, 1],
      range: [view.lowDb, view.highDb],
      dtick: span > 12 ? 5 : 1,
      title: { text: 'Level (dB)', standoff: narrow ? 2 : 8 },
      fixedrange: true,
    },
    yaxis2: {
      ...axis,
      domain: [0, (bottom - lower) / plot],
      range: [view.eqLowDb, view.eqHighDb],
      dtick: view.eqHighDb - view.eqLowDb > 24 ? 6 : 3,
      title: { text: 'Filters (dB)', standoff: narrow ? 2 : 8 },
      fixedrange: true,
    },
  };
}
