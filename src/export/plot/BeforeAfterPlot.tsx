import { scaleLinear, scaleLog } from 'd3-scale';
import { area } from 'd3-shape';
import type { Design } from '../../schema/design.js';
import { numberedFindings } from '../text/numberedFindings.js';
import { allowedLimit } from '../words/allowedLimits.js';
import { cleanText } from '../words/cleanText.js';
import { errorPair } from '../words/errorPair.js';
import { adviceShort, findingName } from '../words/findingWords.js';
import { formatDb, formatSignedDb } from '../words/formatDb.js';
import { formatSpan } from '../words/formatSpan.js';
import { shorten } from '../words/shorten.js';
import { smoothingWords } from '../words/smoothingWords.js';
import { typeset } from '../words/typeset.js';
import { CurvePath } from './CurvePath.js';
import { coordinate } from './coordinate.js';
import { eqDomain } from './eqDomain.js';
import { FindingMark } from './FindingMark.js';
import { frequencyDomain } from './frequencyDomain.js';
import { frequencyTicks } from './frequencyTicks.js';
import { Legend } from './Legend.js';
import { levelDomain } from './levelDomain.js';
import { Panel } from './Panel.js';
import { placeFindings } from './placeFindings.js';
import { curveStyles } from './plotStyle.js';
import { spreadLabels } from './spreadLabels.js';

const WIDTH = 1000;
const LEFT = 66;
const RIGHT = WIDTH - 22;
const ZONE_LABEL = 'left alone';
const ZONE_LABEL_WIDTH = 58;
const ZONE_ROW = 15;
const RESPONSE_HEIGHT = 360;
const EQ_HEIGHT = 150;
const KEY_ROW = 20;
const KEY_AT_MOST = 16;
/** What heading and subtitle take up. */
const HEADING = 62;

const everyStep = (low: number, high: number, step: number) =>
  Array.from({ length: Math.floor((high - low) / step + 1.001) }, (_, i) => low + i * step);

/**
 * The design as one drawing: response before and after over the EQ that makes the difference, protected spans
 * hatched, findings numbered. Drawn dark on white, for paper; differences never rest on colour alone.
 */
export function BeforeAfterPlot(props: {
  readonly design: Design;
  /** Without heading and list of findings, where the page around it has both. */
  readonly isBare?: boolean;
}) {
  const { design, isBare = false } = props;
  // Beside other drawings on one page no two may be called the same.
  const idOf = (name: string) => (isBare ? `bare-${name}` : name);
  const { curves, zones, range } = design;
  const [lowDb, highDb] = levelDomain(design);
  const [eqLowDb, eqHighDb] = eqDomain(design);
  const x = scaleLog().domain(frequencyDomain(design)).range([LEFT, RIGHT]);
  const [lowHz, highHz] = x.domain() as [number, number];

  const shownZones = zones.filter((zone) => zone.toHz > lowHz && zone.fromHz < highHz);
  const zoneLabels = spreadLabels(
    shownZones.map((zone) => ({ center: (x(zone.fromHz) + x(zone.toHz)) / 2, width: ZONE_LABEL_WIDTH })),
    LEFT,
    RIGHT,
    6,
  );
  const zoneRows = Math.max(0, ...zoneLabels.map(({ row }) => row + 1));

  const legendY = isBare ? 80 - HEADING : 80;
  const top = legendY + 24 + zoneRows * ZONE_ROW;
  const response = { left: LEFT, right: RIGHT, top, bottom: top + RESPONSE_HEIGHT };
  const eqTop = response.bottom + 20;
  const eq = { left: LEFT, right: RIGHT, top: eqTop, bottom: eqTop + EQ_HEIGHT };
  const y = scaleLinear().domain([lowDb, highDb]).range([response.bottom, response.top]);
  const eqY = scaleLinear().domain([eqLowDb, eqHighDb]).range([eq.bottom, eq.top]);
  const mostBoostDb = allowedLimit(design, 'maxBoostDb').value;

  const shown = curves.frequencyHz.flatMap((hz, i) => (hz >= lowHz && hz <= highHz ? [i] : []));
  const points = (valueAt: (i: number) => number, scale: (value: number) => number) =>
    shown.map((i): readonly [number, number] => [x(curves.frequencyHz[i]!), scale(valueAt(i))]);
  const eqPoints = points((i) => curves.eqDb[i]!, eqY);
  const eqArea = area<readonly [number, number]>()
    .x((point) => point[0])
    .y0(coordinate(eqY(0)))
    .y1((point) => point[1])
    .digits(1)([...eqPoints]);

  const findings = numberedFindings(design).filter(
    ({ finding }) => finding.frequencyHz >= lowHz && finding.frequencyHz <= highHz,
  );
  const marks = placeFindings(design, findings, {
    x,
    y,
    offset: 13,
    apart: 19,
    top: response.top,
    bottom: response.bottom,
  });

  const keyed = isBare ? [] : findings.slice(0, KEY_AT_MOST);
  const isCut = !isBare && findings.length > KEY_AT_MOST;
  const keyTop = eq.bottom + 74;
  const keyRows = Math.ceil(keyed.length / 2) + (isCut ? 1 : 0);
  const height = isBare ? eq.bottom + 46 : keyTop + keyRows * KEY_ROW + 6;

  const rms = errorPair(design.unevenness.beforeRmsDb, design.unevenness.afterRmsDb);
  const title = shorten(cleanText(design.title), 80);
  const subtitle = `Unevenness ${rms.before} dB RMS before, ${rms.after} dB after, ${formatSpan(range)}${
    zones.length > 0 ? ', hatched spans not counted' : ''
  }. Target: ${shorten(cleanText(design.target), 60)}.`;
  const description = `${subtitle} ${design.filters.length} filters. ${findings
    .map(({ number, finding }) => `${number}: ${findingName(finding)}, ${adviceShort(finding)}.`)
    .join(' ')}`;

  const veils = [
    { from: lowHz, to: range.fromHz },
    { from: range.toHz, to: highHz },
  ].filter(({ from, to }) => to > from);
  const ground = (box: { top: number; bottom: number }) => (
    <>
      {veils.map(({ from, to }) => (
        <rect
          x={coordinate(x(from))}
          y={box.top}
          width={coordinate(x(to) - x(from))}
          height={box.bottom - box.top}
          fill="#000"
          fill-opacity="0.055"
        />
      ))}
      {shownZones.map((zone) => (
        <rect
          x={coordinate(x(zone.fromHz))}
          y={box.top}
          width={coordinate(x(zone.toHz) - x(zone.fromHz))}
          height={box.bottom - box.top}
          fill="url(#left-alone)"
          stroke="#777"
          stroke-width="0.8"
        />
      ))}
    </>
  );

  return (
    <svg
      xmlns="http://www.w3.org/2000/svg"
      viewBox={`0 0 ${WIDTH} ${height}`}
      width={WIDTH}
      height={height}
      role="img"
      aria-labelledby={`${idOf('plot-title')} ${idOf('plot-description')}`}
      font-family="'Liberation Sans', Arial, Helvetica, sans-serif"
    >
      <title id={idOf('plot-title')}>{`Before and after: ${title}`}</title>
      <desc id={idOf('plot-description')}>{typeset(description)}</desc>
      <defs>
        <pattern
          id="left-alone"
          width="7"
          height="7"
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(45)"
        >
          <line x1="0" y1="0" x2="0" y2="7" stroke="#777" stroke-width="1.3" stroke-opacity="0.55" />
        </pattern>
      </defs>
      <rect width={WIDTH} height={height} fill="#fff" />
      {!isBare && (
        <>
          <text x={LEFT} y="28" font-size="19" font-weight="700" fill="#111">
            {title}
          </text>
          <text x={LEFT} y="50" font-size="13" fill="#333">
            {typeset(subtitle)}
          </text>
        </>
      )}
      <Legend
        x={LEFT}
        y={legendY}
        items={[
          { style: curveStyles.measured, width: 122 },
          {
            style: {
              ...curveStyles.smoothed,
              label: `Smoothed, ${smoothingWords(design.limits.smoothingOctaves)}`,
            },
            width: 212,
          },
          { style: curveStyles.target, width: 108 },
          { style: curveStyles.expected, width: 222 },
          { style: curveStyles.eq, width: 170 },
        ]}
      />
      <g font-size="11.5" fill="#333" text-anchor="middle">
        {zoneLabels.map(({ center, row }) => (
          <text x={coordinate(center)} y={response.top - 6 - row * ZONE_ROW}>
            {ZONE_LABEL}
          </text>
        ))}
      </g>

      <Panel
        id={idOf('response')}
        box={response}
        x={x}
        y={y}
        levelTicksDb={everyStep(lowDb, highDb, 5)}
        levelTitle="Level (dB)"
      >
        {ground(response)}
        <CurvePath style={curveStyles.measured} points={points((i) => curves.measuredDb[i]!, y)} />
        <CurvePath style={curveStyles.smoothed} points={points((i) => curves.smoothedDb[i]!, y)} />
        <CurvePath
          style={curveStyles.expected}
          points={points((i) => curves.smoothedDb[i]! + curves.eqDb[i]!, y)}
        />
        <CurvePath style={curveStyles.target} points={points((i) => curves.targetDb[i]!, y)} />
        {findings.map(({ number, finding }, i) => (
          <FindingMark verdict={finding.verdict} x={marks[i]!.x} y={marks[i]!.y} number={number} />
        ))}
      </Panel>

      <Panel
        id={idOf('eq')}
        box={eq}
        x={x}
        y={eqY}
        levelTicksDb={everyStep(eqLowDb, eqHighDb, eqHighDb - eqLowDb > 18 ? 6 : 3)}
        levelTitle="EQ (dB)"
      >
        {ground(eq)}
        <path d={eqArea ?? ''} fill={curveStyles.eq.color} fill-opacity="0.16" />
        <line x1={LEFT} x2={RIGHT} y1={coordinate(eqY(0))} y2={coordinate(eqY(0))} stroke="#555" />
        <line
          x1={LEFT}
          x2={RIGHT}
          y1={coordinate(eqY(mostBoostDb))}
          y2={coordinate(eqY(mostBoostDb))}
          stroke="#1a1a1a"
          stroke-dasharray="2 3"
        />
        <text
          x={RIGHT - 6}
          y={coordinate(eqY(mostBoostDb) + 13)}
          font-size="11.5"
          fill="#333"
          text-anchor="end"
        >
          {`most boost allowed, ${formatDb(mostBoostDb)}`}
        </text>
        <CurvePath style={curveStyles.eq} points={eqPoints} />
      </Panel>

      <g font-size="12" fill="#333" text-anchor="middle">
        {frequencyTicks
          .filter(({ hz }) => hz >= lowHz && hz <= highHz)
          .map(({ hz, label }) => (
            <text x={coordinate(x(hz))} y={eq.bottom + 17}>
              {label}
            </text>
          ))}
        <text x={(LEFT + RIGHT) / 2} y={eq.bottom + 36} font-size="12.5">
          Frequency (Hz); grey ground lies outside the fitted range
        </text>
      </g>

      {keyed.map(({ number, finding }, i) => {
        const column = i % 2;
        const keyX = LEFT + 9 + column * 462;
        const keyY = keyTop + Math.floor(i / 2) * KEY_ROW;
        return (
          <g>
            <FindingMark verdict={finding.verdict} x={keyX} y={keyY} number={number} />
            <text x={keyX + 16} y={keyY + 4} font-size="12.5" fill="#1a1a1a">
              {typeset(
                shorten(
                  `${findingName(finding)}, ${formatSignedDb(finding.levelDb)}: ${adviceShort(finding)}`,
                  66,
                ),
              )}
            </text>
          </g>
        );
      })}
      {isCut ? (
        <text x={LEFT} y={keyTop + (keyRows - 1) * KEY_ROW + 4} font-size="12.5" fill="#1a1a1a">
          {`and ${findings.length - KEY_AT_MOST} more, in the report`}
        </text>
      ) : null}
    </svg>
  );
}
