import { type ScaleLogarithmic, scaleLinear } from 'd3-scale';
import { line } from 'd3-shape';
import type { PredictedPlacement, Prediction } from '../../schema/prediction.js';
import { formatLength } from '../../units/formatLength.js';
import { heightsDb } from '../../whatIf/unevennessDb.js';
import { BoxOutline } from './BoxOutline.js';
import { CellMap } from './CellMap.js';
import { coordinate } from './coordinate.js';
import { frequencyTicks } from './frequencyTicks.js';
import { heightColors, heightStep } from './heightColor.js';
import type { PanelBox } from './panelBox.js';

const MOST_ROWS = 60;
const MOST_DIPS = 4;

interface DistanceMapProps {
  readonly prediction: Prediction;
  readonly box: PanelBox;
  readonly x: ScaleLogarithmic<number, number>;
  /** Where the panel of the remaining error stands, with a measurement. */
  readonly side?: PanelBox;
}

/** Distance downward, frequency across: what is missing and what is too much, with the lines along which dips run. */
export function DistanceMap({ prediction, box, x, side }: DistanceMapProps) {
  const { lengthUnit, curves, levels } = prediction;
  const places = thinned([...prediction.varied!].sort((a, b) => a.speakerDistanceM - b.speakerDistanceM));
  const distances = places.map((p) => p.speakerDistanceM);
  const y = scaleLinear()
    .domain([distances[0]!, distances[distances.length - 1]!])
    .range([box.top, box.bottom]);
  const hz = Float64Array.from(curves!.frequencyHz);
  const edges = middles(
    curves!.frequencyHz.map((f) => x(f)),
    box.left,
    box.right,
  );
  const rowEdges = middles(
    distances.map((m) => y(m)),
    box.top,
    box.bottom,
  );
  const rows = places.map((place, i) => {
    const levelDb = Float64Array.from(place.levelDb ?? []);
    const heights = levels === 'measured' ? heightsDb(hz, levelDb) : levelDb;
    return { top: rowEdges[i]!, bottom: rowEdges[i + 1]!, steps: Array.from(heights, heightStep) };
  });
  const nowM = prediction.now!.speakerDistanceM;
  const nowY =
    nowM >= distances[0]! && nowM <= distances[distances.length - 1]! ? coordinate(y(nowM)) : undefined;
  const ticks = y.ticks(8).filter((m) => m >= distances[0]! && m <= distances[distances.length - 1]!);
  return (
    <g>
      <clipPath id="map-clip">
        <rect x={box.left} y={box.top} width={box.right - box.left} height={box.bottom - box.top} />
      </clipPath>
      <g clip-path="url(#map-clip)">
        <CellMap edges={edges} rows={rows} colors={heightColors} />
        {frequencyTicks.map(({ hz: f }) => (
          <line
            x1={coordinate(x(f))}
            x2={coordinate(x(f))}
            y1={box.top}
            y2={box.bottom}
            stroke="#000"
            stroke-opacity="0.12"
          />
        ))}
        {Array.from({ length: MOST_DIPS }, (_, n) => (
          <path
            d={dipPath(places, n, x, y)}
            fill="none"
            stroke="#111"
            stroke-width="1.6"
            stroke-dasharray="2 4"
            stroke-linecap="round"
          />
        ))}
      </g>
      {nowY === undefined ? null : (
        <g>
          <line
            x1={box.left}
            x2={side?.right ?? box.right}
            y1={nowY}
            y2={nowY}
            stroke="#111"
            stroke-width="1.2"
          />
          <text
            x={box.left + 6}
            y={nowY - 5}
            font-size="12.5"
            font-weight="700"
            fill="#111"
            stroke="#fff"
            stroke-width="3"
            paint-order="stroke"
          >
            {`now: ${formatLength(nowM, lengthUnit)}`}
          </text>
        </g>
      )}
      <g font-size="12" fill="#333" text-anchor="end">
        {ticks.map((m) => (
          <text x={box.left - 8} y={coordinate(y(m) + 4)}>
            {formatLength(m, lengthUnit)}
          </text>
        ))}
      </g>
      <BoxOutline box={box} />
      {side ? <ErrorSide prediction={prediction} places={places} side={side} y={y} /> : null}
    </g>
  );
}

interface ErrorSideProps {
  readonly prediction: Prediction;
  readonly places: readonly PredictedPlacement[];
  readonly side: PanelBox;
  readonly y: (m: number) => number;
}

/** Remaining error after a new fit at each distance, beside the map. */
function ErrorSide({ prediction, places, side, y }: ErrorSideProps) {
  const known = places.flatMap((p) =>
    p.remainingErrorRmsDb === undefined ? [] : [{ m: p.speakerDistanceM, db: p.remainingErrorRmsDb }],
  );
  const most = Math.max(0.5, ...known.map(({ db }) => db), prediction.now?.remainingErrorRmsDb ?? 0);
  const x = scaleLinear()
    .domain([0, most * 1.08])
    .range([side.left, side.right]);
  const ticks = x.ticks(4);
  const best = prediction.best ?? [];
  return (
    <g>
      <g stroke="#d4d4d4" stroke-width="0.9">
        {ticks.map((db) => (
          <line x1={coordinate(x(db))} x2={coordinate(x(db))} y1={side.top} y2={side.bottom} />
        ))}
      </g>
      <g font-size="12" fill="#333" text-anchor="middle">
        {ticks.map((db) => (
          <text x={coordinate(x(db))} y={side.bottom + 17}>
            {String(db)}
          </text>
        ))}
        <text x={(side.left + side.right) / 2} y={side.bottom + 36} font-size="12.5">
          Left after a fit (dB RMS)
        </text>
      </g>
      <path
        d={
          line<{ m: number; db: number }>()
            .x(({ db }) => x(db))
            .y(({ m }) => y(m))
            .digits(1)(known) ?? ''
        }
        fill="none"
        stroke="#d55e00"
        stroke-width="2.4"
        stroke-linejoin="round"
      />
      {best.map((place, i) => (
        <g>
          <circle
            cx={coordinate(x(place.remainingErrorRmsDb ?? 0))}
            cy={coordinate(y(place.speakerDistanceM))}
            r="8.5"
            fill="#fff"
            stroke="#d55e00"
            stroke-width="1.6"
          />
          <text
            x={coordinate(x(place.remainingErrorRmsDb ?? 0))}
            y={coordinate(y(place.speakerDistanceM) + 4)}
            font-size="12"
            font-weight="700"
            text-anchor="middle"
            fill="#111"
          >
            {String(i + 1)}
          </text>
        </g>
      ))}
      <BoxOutline box={side} />
    </g>
  );
}

function dipPath(
  places: readonly PredictedPlacement[],
  n: number,
  x: (hz: number) => number,
  y: (m: number) => number,
): string {
  const points = places.flatMap((p) => {
    const dip = p.surfaces[0]!.dips[n];
    return dip ? [[x(dip.expectedHz), y(p.speakerDistanceM)] as const] : [];
  });
  return (
    line<readonly [number, number]>()
      .x((p) => p[0])
      .y((p) => p[1])
      .digits(1)(points) ?? ''
  );
}

/** Edges half way between neighbours, the outermost at the ends of the box. */
export function middles(at: readonly number[], first: number, last: number): number[] {
  const between = at.slice(1).map((v, i) => (v + at[i]!) / 2);
  return [first, ...between, last];
}

function thinned(places: readonly PredictedPlacement[]): readonly PredictedPlacement[] {
  const every = Math.ceil(places.length / MOST_ROWS);
  return places.filter((_, i) => i % every === 0 || i === places.length - 1);
}
