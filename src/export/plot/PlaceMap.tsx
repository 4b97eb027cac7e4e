import { scaleLinear } from 'd3-scale';
import type { Prediction } from '../../schema/prediction.js';
import { formatLength } from '../../units/formatLength.js';
import { cleanText } from '../words/cleanText.js';
import { fixedDecimals } from '../words/fixedDecimals.js';
import { BoxOutline } from './BoxOutline.js';
import { CellMap } from './CellMap.js';
import { coordinate } from './coordinate.js';
import { middles } from './DistanceMap.js';
import type { PanelBox } from './panelBox.js';

/** From good to bad; lighter is better, in grey too. */
const colors = ['#fff7ec', '#fee8c8', '#fdd49e', '#fdbb84', '#fc8d59', '#e34a33', '#b30000', '#7f0000'];

/** Lesser differences than a prediction can tell are not made to look great. */
const LEAST_SPAN_DB = 1;

/** Places over two surfaces' distances (the first downward, the second across), coloured by how uneven they are. */
export function PlaceMap({ prediction, box }: { readonly prediction: Prediction; readonly box: PanelBox }) {
  const { varied, variedSurfaces, lengthUnit, now, best } = prediction;
  const distances = (k: number) =>
    [...new Set(varied!.map((p) => p.surfaces[k]!.speakerDistanceM))].sort((a, b) => a - b);
  const [down, across] = [distances(0), distances(1)];
  const scale = (values: readonly number[], from: number, to: number) =>
    scaleLinear()
      .domain([values[0]!, values[values.length - 1]!])
      .range([from, to]);
  const y = scale(down, box.top, box.bottom);
  const x = scale(across, box.left, box.right);
  const value = (p: (typeof varied & object)[number]) => p.remainingErrorRmsDb ?? p.unevennessDb ?? 0;
  const at = new Map<string, number>();
  for (const p of varied!) {
    const key = `${p.surfaces[0]!.speakerDistanceM} ${p.surfaces[1]!.speakerDistanceM}`;
    // With a third surface: the best of its distances.
    at.set(key, Math.min(at.get(key) ?? Number.POSITIVE_INFINITY, value(p)));
  }
  const values = [...at.values()];
  const [least, most] = [Math.min(...values), Math.max(...values)];
  const stepOf = (v: number) =>
    Math.min(
      colors.length - 1,
      Math.floor(((v - least) / Math.max(LEAST_SPAN_DB, most - least)) * colors.length),
    );
  const rowEdges = middles(
    down.map((m) => y(m)),
    box.top,
    box.bottom,
  );
  const edges = middles(
    across.map((m) => x(m)),
    box.left,
    box.right,
  );
  const rows = down.map((m, i) => ({
    top: rowEdges[i]!,
    bottom: rowEdges[i + 1]!,
    steps: across.map((n) => stepOf(at.get(`${m} ${n}`) ?? most)),
  }));
  const marks = [
    { place: now!, label: 'now' },
    ...(best ?? []).map((place, i) => ({ place, label: String(i + 1) })),
  ];
  const inside = (v: number, values: readonly number[]) => v >= values[0]! && v <= values[values.length - 1]!;
  const kind =
    now!.remainingErrorRmsDb === undefined ? 'Unevenness from 60 Hz to 1 kHz' : 'Left after a new fit';
  return (
    <g font-size="12" fill="#333">
      <text x={box.left} y={88}>
        {`${kind}: ${fixedDecimals(least, 1)} dB RMS (light) to ${fixedDecimals(most, 1)} dB (dark)`}
      </text>
      <CellMap edges={edges} rows={rows} colors={colors} />
      {marks.map(({ place, label }) => {
        const [a, b] = [place.surfaces[0]!.speakerDistanceM, place.surfaces[1]!.speakerDistanceM];
        return inside(a, down) && inside(b, across) ? (
          <g>
            <circle
              cx={coordinate(x(b))}
              cy={coordinate(y(a))}
              r={label === 'now' ? 15 : 9}
              fill="#fff"
              stroke="#111"
              stroke-width="1.5"
            />
            <text
              x={coordinate(x(b))}
              y={coordinate(y(a) + 4)}
              font-weight="700"
              text-anchor="middle"
              fill="#111"
            >
              {label}
            </text>
          </g>
        ) : null;
      })}
      <g text-anchor="end">
        {y.ticks(8).map((m) => (
          <text x={box.left - 8} y={coordinate(y(m) + 4)}>
            {formatLength(m, lengthUnit)}
          </text>
        ))}
      </g>
      <g text-anchor="middle">
        {x.ticks(10).map((m) => (
          <text x={coordinate(x(m))} y={box.bottom + 17}>
            {formatLength(m, lengthUnit)}
          </text>
        ))}
        <text x={(box.left + box.right) / 2} y={box.bottom + 36} font-size="12.5">
          {`From “${cleanText(variedSurfaces![1]!)}”`}
        </text>
        <text
          x="22"
          y={(box.top + box.bottom) / 2}
          font-size="12.5"
          transform={`rotate(-90 22 ${(box.top + box.bottom) / 2})`}
        >
          {`From “${cleanText(variedSurfaces![0]!)}”`}
        </text>
      </g>
      <BoxOutline box={box} />
    </g>
  );
}
