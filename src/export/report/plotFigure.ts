import type { FrequencyRange } from '../../curve/curve.js';
import { log10 } from '../../elementary/logarithm.js';
import { bankResponseDb } from '../../filter/bankResponseDb.js';
import type { Design } from '../../schema/design.js';
import { formatFrequency } from '../../units/formatFrequency.js';
import { eqDomain } from '../plot/eqDomain.js';
import { frequencyDomain } from '../plot/frequencyDomain.js';
import { frequencyTicks } from '../plot/frequencyTicks.js';
import { levelDomain } from '../plot/levelDomain.js';
import { placeFindings } from '../plot/placeFindings.js';
import { type CurveStyle, curveStyles } from '../plot/plotStyle.js';
import { numberedFindings } from '../text/numberedFindings.js';
import { allowedLimit } from '../words/allowedLimits.js';
import { filterTypeName } from '../words/filterTypeName.js';
import { findingName, verdictWords } from '../words/findingWords.js';
import { smoothingWords } from '../words/smoothingWords.js';

/** Traces and layout for the plotting library. A string that begins with `--` stands for that CSS property's value. */
export interface PlotFigure {
  readonly data: readonly Record<string, unknown>[];
  readonly layout: Record<string, unknown>;
  /** The levels at which the marks of the findings hide none of one another, for plots from so many pixels of width on. */
  readonly marks: readonly { readonly fromPx: number; readonly y: readonly number[] }[];
}

/** The trace of which `marks` gives the levels. */
export const FINDINGS = 'Findings';

/**
 * The least that the upper panel has of pixels, by the width of the whole plot: the legend takes more rows of a narrow one.
 * A panel that turns out larger only holds the marks farther apart.
 */
const PANELS = [
  { fromPx: 0, width: 240, height: 215 },
  { fromPx: 600, width: 520, height: 290 },
  { fromPx: 900, width: 820, height: 300 },
] as const;
const MARK_SIZE = 17;
const MARK_OFFSET = 14;

const hundredth = (value: number) => Math.round(value * 100) / 100 + 0;

/**
 * The interactive plot: curves over the EQ, one frequency axis. No text from files goes into it, because the
 * library reads some markup in its labels.
 */
export function plotFigure(design: Design): PlotFigure {
  const { curves, zones, range, limits } = design;
  const [lowHz, highHz] = frequencyDomain(design);
  const [eqLowDb, eqHighDb] = eqDomain(design);
  const mostBoostDb = allowedLimit(design, 'maxBoostDb').value;
  const shown = curves.frequencyHz.flatMap((hz, i) => (hz >= lowHz && hz <= highHz ? [i] : []));
  const frequencies = shown.map((i) => Math.round(curves.frequencyHz[i]! * 100) / 100);
  const valuesAt = (valueAt: (i: number) => number) => shown.map((i) => hundredth(valueAt(i)));

  const curve = (name: string, style: CurveStyle, color: string, y: readonly number[], axis = 'y') => ({
    type: 'scatter',
    mode: 'lines',
    name,
    x: frequencies,
    y,
    yaxis: axis,
    line: { color, width: style.width, dash: style.dash === undefined ? 'solid' : 'dash', simplify: false },
    hovertemplate: '%{y:.1f} dB',
  });

  const each = bankEach(design, frequencies);
  const findings = numberedFindings(design).filter(
    ({ finding }) => finding.frequencyHz >= lowHz && finding.frequencyHz <= highHz,
  );
  const [lowDb, highDb] = levelDomain(design);
  const marks = PANELS.map(({ fromPx, width, height }) => {
    const xAt = (hz: number) => (width * log10(hz / lowHz)) / log10(highHz / lowHz);
    const yAt = (db: number) => (height * (highDb - db)) / (highDb - lowDb);
    const places = placeFindings(design, findings, {
      x: xAt,
      y: yAt,
      offset: MARK_OFFSET,
      apart: MARK_SIZE + 2,
      top: 0,
      bottom: height,
    });
    return { fromPx, y: places.map(({ y }) => hundredth(highDb - (y / height) * (highDb - lowDb))) };
  });

  const axis = {
    gridcolor: '--grid',
    linecolor: '--rule',
    zeroline: false,
    showline: true,
    mirror: true,
    fixedrange: false,
    ticks: 'outside',
    tickcolor: '--rule',
  };
  return {
    marks,
    data: [
      curve(
        'Measured',
        curveStyles.measured,
        '--faint',
        valuesAt((i) => curves.measuredDb[i]!),
      ),
      curve(
        `Smoothed, ${smoothingWords(limits.smoothingOctaves)}`,
        curveStyles.smoothed,
        '--before',
        valuesAt((i) => curves.smoothedDb[i]!),
      ),
      curve(
        'Expected with the filters',
        curveStyles.expected,
        '--after',
        valuesAt((i) => curves.smoothedDb[i]! + curves.eqDb[i]!),
      ),
      curve(
        'Target',
        curveStyles.target,
        '--ink',
        valuesAt((i) => curves.targetDb[i]!),
      ),
      {
        type: 'scatter',
        mode: 'markers+text',
        name: FINDINGS,
        x: findings.map(({ finding }) => finding.frequencyHz),
        y: marks.at(-1)!.y,
        text: findings.map(({ number }) => String(number)),
        textposition: 'middle center',
        textfont: {
          size: 10,
          color: findings.map(({ finding }) => (finding.verdict === 'move' ? '--paper' : '--ink')),
        },
        marker: {
          size: MARK_SIZE,
          symbol: findings.map(({ finding }) => (finding.verdict === 'move' ? 'square' : 'circle')),
          color: findings.map(({ finding }) => (finding.verdict === 'move' ? '--ink' : '--paper')),
          line: {
            width: findings.map(({ finding }) => (finding.verdict === 'leave' ? 0.7 : 1.5)),
            color: findings.map(({ finding }) => (finding.verdict === 'leave' ? '--faint' : '--ink')),
          },
        },
        customdata: findings.map(
          ({ finding }) => `${findingName(finding)}: ${verdictWords(finding.verdict)}`,
        ),
        hovertemplate: '%{customdata}<extra></extra>',
      },
      curve(
        'Sum of all filters',
        curveStyles.eq,
        '--eq',
        valuesAt((i) => curves.eqDb[i]!),
        'y2',
      ),
      ...each,
    ],
    layout: {
      font: { color: '--ink', family: 'system-ui, "Liberation Sans", Arial, sans-serif', size: 12 },
      paper_bgcolor: '--paper',
      plot_bgcolor: '--paper',
      hovermode: 'x unified',
      hoverlabel: { bgcolor: '--paper', bordercolor: '--rule', font: { color: '--ink' } },
      showlegend: true,
      legend: { orientation: 'h', x: 0, xanchor: 'left', y: 1.02, yanchor: 'bottom' },
      xaxis: {
        ...axis,
        type: 'log',
        anchor: 'y2',
        range: [log10(lowHz), log10(highHz)],
        tickvals: frequencyTicks.map(({ hz }) => hz),
        ticktext: frequencyTicks.map(({ label }) => label),
        title: { text: 'Frequency (Hz)' },
        unifiedhovertitle: { text: '%{x:.4~g} Hz' },
      },
      yaxis: {
        ...axis,
        domain: [0.36, 1],
        range: [lowDb, highDb],
        dtick: 5,
        title: { text: 'Level (dB)' },
      },
      yaxis2: {
        ...axis,
        domain: [0, 0.3],
        range: [eqLowDb, eqHighDb],
        dtick: eqHighDb - eqLowDb > 18 ? 6 : 3,
        title: { text: 'EQ (dB)' },
      },
      shapes: [
        ...zones.map((zone) => ({
          type: 'rect',
          layer: 'below',
          xref: 'x',
          yref: 'paper',
          x0: zone.fromHz,
          x1: zone.toHz,
          y0: 0,
          y1: 1,
          fillcolor: '--veil',
          line: { color: '--faint', width: 1, dash: 'dot' },
        })),
        ...[range.fromHz, range.toHz].map((hz) => ({
          type: 'line',
          layer: 'below',
          xref: 'x',
          yref: 'paper',
          x0: hz,
          x1: hz,
          y0: 0,
          y1: 1,
          line: { color: '--faint', width: 1 },
        })),
        {
          type: 'line',
          xref: 'paper',
          yref: 'y2',
          x0: 0,
          x1: 1,
          y0: mostBoostDb,
          y1: mostBoostDb,
          line: { color: '--ink', width: 1, dash: 'dot' },
        },
      ],
      annotations: joined(zones).map((zone) => ({
        text: 'left alone',
        showarrow: false,
        textangle: -90,
        xref: 'x',
        yref: 'paper',
        x: log10(Math.sqrt(zone.fromHz * zone.toHz)),
        y: 0.99,
        yanchor: 'top',
        font: { size: 11, color: '--ink' },
      })),
    },
  };
}

/** Spans that touch are one to the eye: two words on them would lie on each other. */
function joined(zones: readonly FrequencyRange[]): FrequencyRange[] {
  const spans: FrequencyRange[] = [];
  for (const { fromHz, toHz } of [...zones].sort((a, b) => a.fromHz - b.fromHz)) {
    const last = spans.at(-1);
    if (last && fromHz <= last.toHz)
      spans[spans.length - 1] = { fromHz: last.fromHz, toHz: Math.max(last.toHz, toHz) };
    else spans.push({ fromHz, toHz });
  }
  return spans;
}

/** Each filter's own curve, all under one entry of the legend, hidden until it is asked for. */
function bankEach(design: Design, frequenciesHz: readonly number[]): Record<string, unknown>[] {
  const x = frequenciesHz.filter((_, i) => i % 3 === 0);
  return design.filters.map((filter, k) => ({
    type: 'scatter',
    mode: 'lines',
    name: k === 0 ? 'Each filter' : '',
    legendgroup: 'each',
    showlegend: k === 0,
    visible: 'legendonly',
    x,
    y: Array.from(bankResponseDb([filter], design.sampleRateHz, Float64Array.from(x)), hundredth),
    yaxis: 'y2',
    line: { color: '--faint', width: 1 },
    hovertemplate: `%{y:.1f} dB<extra>${k + 1}: ${filterTypeName(filter.type)}, ${formatFrequency(filter.frequencyHz)}</extra>`,
  }));
}
