import { scaleLinear, scaleLog } from 'd3-scale';
import { renderToString } from 'preact-render-to-string';
import { CurvePath } from '../../src/export/plot/CurvePath.js';
import { coordinate } from '../../src/export/plot/coordinate.js';
import { FrequencyAxis } from '../../src/export/plot/FrequencyAxis.js';
import { Legend } from '../../src/export/plot/Legend.js';
import { Panel } from '../../src/export/plot/Panel.js';
import { PlotSheet } from '../../src/export/plot/PlotSheet.js';
import type { CurveStyle } from '../../src/export/plot/plotStyle.js';

export interface StackedPanel {
  readonly heading: string;
  readonly unit: string;
  readonly from: number;
  readonly to: number;
  readonly ticks: readonly number[];
  readonly curves: readonly { readonly style: CurveStyle; readonly values: Float64Array }[];
}

export interface StackedCurves {
  readonly title: string;
  readonly subtitle: string;
  readonly frequencyHz: Float64Array;
  readonly legend: readonly { readonly style: CurveStyle; readonly width: number }[];
  readonly panels: readonly StackedPanel[];
  /** A frequency to draw a line at, with its words. */
  readonly mark?: { readonly hz: number; readonly words: string };
}

const WIDTH = 1000;
const LEFT = 70;
const RIGHT = 20;
const TOP = 112;
const HEIGHT = 150;
const GAP = 34;
const BOTTOM = 52;

/** Panels over one frequency axis, one above the other, in the manner of the program's own drawings. */
export function stackedCurvesSvg({
  title,
  subtitle,
  frequencyHz,
  legend,
  panels,
  mark,
}: StackedCurves): string {
  const height = TOP + panels.length * (HEIGHT + GAP) - GAP + BOTTOM;
  const x = scaleLog()
    .domain([frequencyHz[0]!, frequencyHz.at(-1)!])
    .range([LEFT, WIDTH - RIGHT]);
  const boxes = panels.map((_, i) => {
    const top = TOP + i * (HEIGHT + GAP);
    return { left: LEFT, right: WIDTH - RIGHT, top, bottom: top + HEIGHT };
  });
  const svg = renderToString(
    <PlotSheet
      width={WIDTH}
      height={height}
      title={title}
      description={subtitle}
      left={LEFT}
      heading={title}
      subtitle={subtitle}
    >
      <Legend x={LEFT} y={76} items={legend} />
      {panels.map(({ heading, unit, from, to, ticks, curves }, i) => {
        const box = boxes[i]!;
        const y = scaleLinear().domain([from, to]).range([box.bottom, box.top]);
        return (
          <g>
            <text x={LEFT} y={box.top - 7} font-size="13" font-weight="700" fill="#333">
              {heading}
            </text>
            <Panel id={`panel-${i}`} box={box} x={x} y={y} levelTicksDb={ticks} levelTitle={unit}>
              {mark && (
                <line
                  x1={coordinate(x(mark.hz))}
                  x2={coordinate(x(mark.hz))}
                  y1={box.top}
                  y2={box.bottom}
                  stroke="#333"
                  stroke-dasharray="2 3"
                />
              )}
              {curves.map(({ style, values }) => (
                <CurvePath
                  style={style}
                  points={Array.from(frequencyHz, (hz, k) => [x(hz), y(values[k]!)] as const)}
                />
              ))}
            </Panel>
          </g>
        );
      })}
      {mark && (
        <text x={coordinate(x(mark.hz) + 5)} y={boxes[0]!.top + 15} font-size="12" fill="#333">
          {mark.words}
        </text>
      )}
      <FrequencyAxis box={boxes.at(-1)!} x={x} />
    </PlotSheet>,
  );
  return `${svg}\n`;
}
