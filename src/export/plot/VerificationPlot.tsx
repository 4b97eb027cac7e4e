import { scaleLinear, scaleLog } from 'd3-scale';
import { area } from 'd3-shape';
import type { Verification } from '../../schema/verification.js';
import { cleanText } from '../words/cleanText.js';
import { formatDb } from '../words/formatDb.js';
import { shorten } from '../words/shorten.js';
import { typeset } from '../words/typeset.js';
import { CurvePath } from './CurvePath.js';
import { coordinate } from './coordinate.js';
import { FrequencyAxis } from './FrequencyAxis.js';
import { frequencyDomain } from './frequencyDomain.js';
import { Legend } from './Legend.js';
import { Panel } from './Panel.js';
import { PlotSheet } from './PlotSheet.js';
import { type CurveStyle, palette } from './plotStyle.js';

const WIDTH = 1000;
const LEFT = 66;
const RESPONSE_HEIGHT = 320;
const DIFFERENCE_HEIGHT = 190;
const KEY_ROW = 20;
/** What heading and subtitle take up. */
const HEADING = 62;
/** A narrower drawing has its key in two rows. */
const KEY_WIDTH = 600;
const STEP_DB = 5;
const LEAST_DIFFERENCE_DB = 6;
const MOST_DIFFERENCE_DB = 24;

const styles = {
  before: { label: 'Before', color: '#9a9a9a', width: 1.1 },
  promised: { label: 'Promised', color: palette.blue, width: 2, dash: '7 4' },
  measured: { label: 'Measured', color: palette.vermillion, width: 2.4 },
  scatter: { label: 'Usual scatter', color: '#cccccc', width: 9 },
} as const satisfies Record<string, CurveStyle>;
const key = [
  { style: styles.before, width: 112 },
  { style: styles.promised, width: 128 },
  { style: styles.measured, width: 128 },
  { style: styles.scatter, width: 140 },
];

/** Promised and measured response over what lies between them, the usual scatter shaded. Level left out. */
export function VerificationPlot(props: {
  readonly verification: Verification;
  /** Less where it is shown small, so that its words can still be read. */
  readonly width?: number;
  /** Without heading and subtitle, where the page around it says as much. */
  readonly isBare?: boolean;
}) {
  const { verification, width = WIDTH, isBare = false } = props;
  const { curves, range } = verification;
  const keyTop = 80 - (isBare ? HEADING : 0);
  const keyRows = width < KEY_WIDTH ? 2 : 1;
  const right = width - 22;
  const top = keyTop + 4 + keyRows * KEY_ROW;
  const response = { left: LEFT, right, top, bottom: top + RESPONSE_HEIGHT };
  const apartTop = response.bottom + 24;
  const difference = { left: LEFT, right, top: apartTop, bottom: apartTop + DIFFERENCE_HEIGHT };
  const x = scaleLog().domain(frequencyDomain({ range })).range([LEFT, right]);
  // Only what lies in the range, so that the fall below the speaker's corner does not flatten the rest.
  const levels = [curves.beforeDb, curves.promisedDb, curves.measuredDb].flatMap((values) =>
    values.filter((_, i) => curves.frequencyHz[i]! >= range.fromHz && curves.frequencyHz[i]! <= range.toHz),
  );
  const lowDb = Math.floor((Math.min(...levels) - 1) / STEP_DB) * STEP_DB;
  const highDb = Math.ceil((Math.max(...levels) + 1) / STEP_DB) * STEP_DB;
  const y = scaleLinear().domain([lowDb, highDb]).range([response.bottom, response.top]);
  const apartDb = curves.measuredDb.map((db, i) => db - curves.promisedDb[i]!);
  const greatest = Math.max(LEAST_DIFFERENCE_DB, ...apartDb.map(Math.abs));
  const spanDb = Math.min(MOST_DIFFERENCE_DB, 3 * Math.ceil(greatest / 3));
  const apartY = scaleLinear().domain([-spanDb, spanDb]).range([difference.bottom, difference.top]);
  const points = (values: readonly number[], scale: (value: number) => number) =>
    values.map((value, i): readonly [number, number] => [x(curves.frequencyHz[i]!), scale(value)]);
  const scatter = area<readonly [number, number]>()
    .x((point) => x(point[0]))
    .y0((point) => apartY(-Math.min(spanDb, point[1])))
    .y1((point) => apartY(Math.min(spanDb, point[1])))
    .digits(1)(
    curves.frequencyHz.map((hz, i): readonly [number, number] => [hz, curves.expectedScatterDb[i]!]),
  );
  const ticks = (low: number, high: number, step: number) =>
    Array.from({ length: Math.floor((high - low) / step + 1e-9) + 1 }, (_, i) => low + i * step);
  const title = shorten(cleanText(verification.title), 80);
  const subtitle = `${verification.asPromised ? 'As promised' : 'Not as promised'}: ${formatDb(verification.errorRmsDb)} RMS between measured and promised, level left out`;
  return (
    <PlotSheet
      width={width}
      height={difference.bottom + 52}
      title={`Promised and measured: ${title}`}
      description={typeset(
        `${subtitle}. ${verification.faults.map(({ message }) => cleanText(message)).join(' ')}`,
      )}
      left={LEFT}
      {...(!isBare && { heading: title, subtitle: typeset(subtitle) })}
    >
      {Array.from({ length: keyRows }, (_, row) => (
        <Legend
          key={row}
          x={LEFT}
          y={keyTop + row * KEY_ROW}
          items={key.slice((row * key.length) / keyRows, ((row + 1) * key.length) / keyRows)}
        />
      ))}
      <Panel
        id="response"
        box={response}
        x={x}
        y={y}
        levelTicksDb={ticks(lowDb, highDb, highDb - lowDb > 60 ? 10 : STEP_DB)}
        levelTitle="Level (dB)"
      >
        <CurvePath style={styles.before} points={points(curves.beforeDb, y)} />
        <CurvePath style={styles.measured} points={points(curves.measuredDb, y)} />
        <CurvePath style={styles.promised} points={points(curves.promisedDb, y)} />
      </Panel>
      <Panel
        id="difference"
        box={difference}
        x={x}
        y={apartY}
        levelTicksDb={ticks(-spanDb, spanDb, spanDb > 12 ? 6 : 3)}
        levelTitle="Apart (dB)"
      >
        <path d={scatter ?? ''} fill={styles.scatter.color} fill-opacity="0.6" />
        <line x1={LEFT} x2={right} y1={coordinate(apartY(0))} y2={coordinate(apartY(0))} stroke="#555" />
        <CurvePath style={styles.measured} points={points(apartDb, apartY)} />
      </Panel>
      <FrequencyAxis box={difference} x={x} />
    </PlotSheet>
  );
}
