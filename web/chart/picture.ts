import { placeFindings } from '../../src/export/plot/placeFindings.js';
import { isSimulated } from '../../src/export/report/isSimulated.js';
import { numberedFindings } from '../../src/export/text/numberedFindings.js';
import { cleanText } from '../../src/export/words/cleanText.js';
import { shorten } from '../../src/export/words/shorten.js';
import { smoothingWords } from '../../src/export/words/smoothingWords.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { Design } from '../../src/schema/design.js';
import type { Verification } from '../../src/schema/verification.js';
import type { Shows } from './chartState.js';
import type { Comb } from './combOfSelected.js';
import { type Colors, layoutOf, line } from './figure.js';
import { dbAt, type Frame, frameOf, type View, xOf, yOf } from './frame.js';
import type { MaskEdges } from './maskEdges.js';

/** What the page draws on the chart at present. */
export interface Drawn {
  readonly design: Design;
  readonly mask?: MaskEdges | undefined;
  /** The reflection behind the finding that is looked at. */
  readonly comb?: Comb | undefined;
  /** Measured with the filters in, at the level of what was promised. */
  readonly again?: Pick<Verification['curves'], 'frequencyHz' | 'measuredDb'> | undefined;
  /** The smoothed curve where the speaker has been moved to, and what a new fit leaves of it there, on the design's grid. */
  readonly thereDb?: ArrayLike<number> | undefined;
  readonly thereAfter?: Design['curves'] | undefined;
}

const WIDTH = 1000;
const HEIGHT = 680;
/** What the title and the list of curves take above the chart. */
const HEAD = 66;
const MARK_OFFSET = 15;
/** A number in its box, from corner to corner where it has two figures. */
const MARK_SIZE = 24;

/** All that the page shows as one figure for the plotting library, with a title that says what it is of. */
export function picture(drawn: Drawn, view: View, shows: Shows, colors: Colors) {
  const frame = lowered(frameOf(WIDTH, HEIGHT - HEAD), HEAD);
  const { design } = drawn;
  return {
    width: WIDTH,
    height: HEIGHT,
    data: [...upperCurves(drawn, shows, colors), ...lowerCurves(design, shows, colors)],
    layout: {
      ...layoutOf(frame, view, colors, false),
      title: {
        text: titleOf(design),
        // In tags within the title its size would be an inline style, which the page's policy refuses.
        subtitle: { text: notesOn(design, shows), font: { size: 11, color: colors.ink } },
        x: frame.left / WIDTH,
        xanchor: 'left',
        y: 1 - 18 / HEIGHT,
        yanchor: 'top',
        font: { size: 15, color: colors.ink },
      },
      showlegend: true,
      legend: { orientation: 'h', x: 0, y: 1.01, yanchor: 'bottom', font: { size: 11 } },
      shapes: veils(design, colors),
      annotations: marks(design, frame, view, colors),
    },
  };
}

function lowered(frame: Frame, by: number): Frame {
  const { height, top, middle, lower, bottom } = frame;
  return {
    ...frame,
    height: height + by,
    top: top + by,
    middle: middle + by,
    lower: lower + by,
    bottom: bottom + by,
  };
}

/** The plotting library reads a few tags in texts. */
const plain = (text: string) =>
  cleanText(text).replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');

function titleOf(design: Design): string {
  const title = shorten(cleanText(design.title), 90);
  return plain(isSimulated(design) && !/simulat/i.test(title) ? `${title} (simulated)` : title);
}

function notesOn(design: Design, shows: Shows): string {
  return [
    ...(shows.smoothed || shows.expected
      ? [`Smoothed by ${smoothingWords(design.limits.smoothingOctaves)}.`]
      : []),
    ...(design.zones.length > 0 ? ['Shaded: left alone.'] : []),
    ...(design.findings.some(({ verdict }) => verdict === 'move') ? ['Filled numbers: want moving.'] : []),
  ].join(' ');
}

const named = (name: string, trace: object) => ({ ...trace, name, showlegend: true });

function upperCurves(
  { design, mask, comb, again, thereDb, thereAfter }: Drawn,
  shows: Shows,
  colors: Colors,
): object[] {
  const { frequencyHz: x, measuredDb, smoothedDb, targetDb } = design.curves;
  const withFilters = (curves: Design['curves']) => curves.smoothedDb.map((db, i) => db + curves.eqDb[i]!);
  const dotted = { dash: 'dot' };
  return [
    ...(shows.raw ? [named('Measured', line(x, measuredDb, colors.measured, 1))] : []),
    ...(shows.smoothed ? [named('Smoothed', line(x, smoothedDb, colors.smoothed, 2))] : []),
    ...(shows.mask && mask
      ? [
          named('Mask', line(mask.frequencyHz, mask.upperDb, colors.ink, 1, dotted)),
          line(mask.frequencyHz, mask.lowerDb, colors.ink, 1, dotted),
        ]
      : []),
    ...(shows.target ? [named('Should be', line(x, targetDb, colors.target, 1.5, { dash: 'dash' }))] : []),
    ...(comb
      ? [named('This surface alone', line([...comb.frequencyHz], comb.levelDb, colors.comb, 1.6, dotted))]
      : []),
    ...(shows.expected ? [named('Will be', line(x, withFilters(design.curves), colors.expected, 3))] : []),
    ...(again ? [named('Measured again', line(again.frequencyHz, again.measuredDb, colors.again, 1.8))] : []),
    ...(thereDb ? [named('There, without filters', line(x, thereDb, colors.elsewhere, 2))] : []),
    ...(thereDb && thereAfter
      ? [
          named(
            'There, with filters',
            line(thereAfter.frequencyHz, withFilters(thereAfter), colors.elsewhere, 2, { dash: 'dash' }),
          ),
        ]
      : []),
  ];
}

function lowerCurves({ curves, filters, sampleRateHz }: Design, shows: Shows, colors: Colors): object[] {
  const x = curves.frequencyHz;
  const lower = (trace: object) => ({ ...trace, yaxis: 'y2' });
  const grid = Float64Array.from(x);
  return [
    ...(shows.single
      ? filters.map((filter) => lower(line(x, bankResponseDb([filter], sampleRateHz, grid), colors.faint, 1)))
      : []),
    ...(shows.sum ? [lower(named('All filters', line(x, curves.eqDb, colors.eq, 2.5)))] : []),
    lower(line([x[0]!, x.at(-1)!], [0, 0], colors.faint, 1)),
  ];
}

function veils({ zones }: Design, colors: Colors): object[] {
  return zones.map(({ fromHz, toHz }) => ({
    type: 'rect',
    layer: 'below',
    xref: 'x',
    yref: 'paper',
    x0: fromHz,
    x1: toHz,
    y0: 0,
    y1: 1,
    fillcolor: colors.veil,
    line: { width: 0 },
  }));
}

/** The numbers of the findings, those to be moved on dark ground; each gives way to those before it. */
function marks(design: Design, frame: Frame, view: View, colors: Colors): object[] {
  const inSight = numberedFindings(design).filter(
    ({ finding: { frequencyHz } }) => frequencyHz >= view.fromHz && frequencyHz <= view.toHz,
  );
  const places = placeFindings(design, inSight, {
    x: (hz) => xOf(frame, view, hz),
    y: (db) => yOf(frame, view, db),
    offset: MARK_OFFSET,
    apart: MARK_SIZE,
    top: frame.top,
    bottom: frame.middle,
  });
  return inSight.map(({ number, finding }, i) => {
    const toMove = finding.verdict === 'move';
    return {
      xref: 'x',
      yref: 'y',
      x: Math.log10(finding.frequencyHz),
      y: dbAt(frame, view, places[i]!.y),
      text: String(number),
      showarrow: false,
      font: { size: 11, color: toMove ? colors.sheet : colors.ink },
      bgcolor: toMove ? colors.ink : colors.sheet,
      bordercolor: colors.ink,
      borderwidth: 1,
      borderpad: 2,
    };
  });
}
