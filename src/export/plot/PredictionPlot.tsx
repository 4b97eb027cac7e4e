import { scaleLinear, scaleLog } from 'd3-scale';
import type { Prediction } from '../../schema/prediction.js';
import { formatLength } from '../../units/formatLength.js';
import { cleanText } from '../words/cleanText.js';
import { formatDb } from '../words/formatDb.js';
import { joinWords } from '../words/joinWords.js';
import { shorten } from '../words/shorten.js';
import { typeset } from '../words/typeset.js';
import { CurvePath } from './CurvePath.js';
import { DistanceMap } from './DistanceMap.js';
import { FrequencyAxis } from './FrequencyAxis.js';
import { heightColors, heightLabels } from './heightColor.js';
import { Legend } from './Legend.js';
import { Panel } from './Panel.js';
import { PlaceMap } from './PlaceMap.js';
import { PlotSheet } from './PlotSheet.js';
import { type CurveStyle, palette } from './plotStyle.js';
import { SurfaceStrips, stripsHeight } from './SurfaceStrips.js';

const WIDTH = 1000;
const LEFT = 128;
const RIGHT = WIDTH - 22;
const TOP = 104;
const MAP_HEIGHT = 400;
const CURVE_HEIGHT = 250;
const SIDE = 220;
const STEP_DB = 5;
/** The least gain worth a word. */
const WORTH_DB = 0.2;

const styles = {
  now: { label: 'now', color: '#8a8a8a', width: 2.2 },
  best: { label: 'at the best place', color: palette.vermillion, width: 2.6 },
  surfaces: { label: 'All surfaces together, over the direct sound', color: palette.blue, width: 2.2 },
} as const satisfies Record<string, CurveStyle>;

/** Where the dips are, or where they go as the speaker moves. */
export function PredictionPlot({ prediction }: { readonly prediction: Prediction }) {
  const { varied, surfaces, variedSurfaces, best } = prediction;
  const domain = frequencySpan(prediction);
  const single = varied !== undefined && variedSurfaces!.length === 1;
  const measured = prediction.levels === 'measured';
  const side =
    single && measured ? { left: RIGHT - SIDE, right: RIGHT, top: TOP, bottom: TOP + MAP_HEIGHT } : undefined;
  const map = { left: LEFT, right: side ? side.left - 24 : RIGHT, top: TOP, bottom: TOP + MAP_HEIGHT };
  const upper = varied ? TOP + MAP_HEIGHT + 96 : TOP;
  const curve = { left: LEFT, right: RIGHT, top: upper, bottom: upper + CURVE_HEIGHT };
  const strips = {
    left: LEFT,
    right: RIGHT,
    top: curve.bottom + 4,
    bottom: curve.bottom + 4 + stripsHeight(surfaces.length),
  };
  const bottom = varied ? curve.bottom : strips.bottom;
  const height = bottom + 56;
  const x = (box: { left: number; right: number }) => scaleLog().domain(domain).range([box.left, box.right]);
  const title = shorten(cleanText(prediction.title), 80);
  const subtitle = subtitleOf(prediction);
  const there = best?.[0];
  const curves = prediction.curves;
  const shown = curves ? [...curves.nowDb, ...(there?.levelDb ?? [])] : [0];
  const low = Math.floor((Math.min(...shown) - 1) / STEP_DB) * STEP_DB;
  const high = Math.ceil((Math.max(...shown) + 1) / STEP_DB) * STEP_DB;
  const y = scaleLinear().domain([low, high]).range([curve.bottom, curve.top]);
  const points = (values: readonly number[]) =>
    values.map((db, i): readonly [number, number] => [x(curve)(curves!.frequencyHz[i]!), y(db)]);
  const nowStyle: CurveStyle = measured ? styles.now : styles.surfaces;
  return (
    <PlotSheet
      width={WIDTH}
      height={height}
      title={title}
      description={typeset(subtitle)}
      left={LEFT}
      heading={title}
      subtitle={typeset(subtitle)}
    >
      {varied ? (
        single ? (
          <>
            <ColorKey measured={measured} />
            <DistanceMap prediction={prediction} box={map} x={x(map)} {...(side && { side })} />
            <FrequencyAxis box={map} x={x(map)} />
          </>
        ) : (
          <PlaceMap prediction={prediction} box={map} />
        )
      ) : (
        <Legend x={LEFT} y={82} items={[{ style: nowStyle, width: 400 }]} />
      )}
      {varied ? (
        <Legend
          x={LEFT}
          y={curve.top - 14}
          items={[
            {
              style: {
                ...nowStyle,
                label: measured
                  ? 'Measured, where it stands now'
                  : 'All surfaces together, where it stands now',
              },
              width: 330,
            },
            ...(there
              ? [
                  {
                    style: { ...styles.best, label: `At the best place (${placeWords(prediction)})` },
                    width: 400,
                  },
                ]
              : []),
          ]}
        />
      ) : null}
      {curves ? (
        <Panel
          id="curve"
          box={curve}
          x={x(curve)}
          y={y}
          levelTicksDb={Array.from({ length: (high - low) / STEP_DB + 1 }, (_, i) => low + i * STEP_DB)}
          levelTitle="Level (dB)"
        >
          <CurvePath style={nowStyle} points={points(curves.nowDb)} />
          {there?.levelDb ? <CurvePath style={styles.best} points={points(there.levelDb)} /> : null}
        </Panel>
      ) : null}
      {varied ? null : <SurfaceStrips prediction={prediction} box={strips} x={x(strips)} />}
      <FrequencyAxis box={varied ? curve : strips} x={x(curve)} />
    </PlotSheet>
  );
}

function frequencySpan({ curves }: Prediction): [number, number] {
  const hz = curves?.frequencyHz ?? [];
  return [Math.min(hz[0] ?? 40, 50), Math.max(hz[hz.length - 1] ?? 3000, 1000)];
}

function subtitleOf(prediction: Prediction): string {
  const { varied, variedSurfaces, microphone, best } = prediction;
  if (!varied)
    return 'Bars: where a surface cancels, as tall as it is deep. Rings: where the same sound adds.';
  const from = joinWords(variedSurfaces!.map((name) => `“${cleanText(name)}”`));
  const mic = microphone === 'along' ? 'the microphone comes along' : 'the microphone stays';
  const there = best?.[0];
  const gain =
    (there?.gainDb ?? 0) >= WORTH_DB && there
      ? ` Best place: ${placeWords(prediction)}, ${formatDb(there.gainDb ?? 0)} better.`
      : '';
  return `Distance from ${from}; ${mic}.${variedSurfaces!.length === 1 ? ' Dotted: where the reflection cancels.' : ''}${best ? ' Numbers: the best places.' : ''}${gain}`;
}

function placeWords({ best, lengthUnit }: Prediction): string {
  return joinWords((best?.[0]?.surfaces ?? []).map((s) => formatLength(s.speakerDistanceM, lengthUnit)));
}

function ColorKey({ measured }: { readonly measured: boolean }) {
  const width = 44;
  return (
    <g font-size="12" fill="#333">
      <text x={LEFT} y={88}>
        {measured ? 'dB over the octaves around' : 'dB over the direct sound'}
      </text>
      {heightColors.map((color, i) => (
        <g>
          <rect
            x={LEFT + 180 + i * width}
            y={76}
            width={width}
            height="15"
            fill={color}
            stroke="#999"
            stroke-width="0.5"
          />
          <text x={LEFT + 180 + (i + 0.5) * width} y={88} text-anchor="middle" fill={i < 3 ? '#fff' : '#111'}>
            {typeset(heightLabels[i]!)}
          </text>
        </g>
      ))}
    </g>
  );
}
