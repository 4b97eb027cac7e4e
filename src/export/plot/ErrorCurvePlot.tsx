import { scaleLinear } from 'd3-scale';
import type { Design } from '../../schema/design.js';
import { kneeWords } from '../remains/remainsWords.js';
import { typeset } from '../words/typeset.js';
import { BoxOutline } from './BoxOutline.js';
import { CurvePath } from './CurvePath.js';
import { coordinate } from './coordinate.js';
import { type CurveStyle, palette } from './plotStyle.js';

/** In the colours of the page around it, light or dark; those of paper elsewhere. */
const PAPER = 'var(--paper, #fff)';
const INK = 'var(--ink, #1a1a1a)';
const SOFT = 'var(--soft, #333)';
const GRID = 'var(--grid, #d4d4d4)';
const VEIL = 'var(--veil, rgba(90, 90, 90, 0.16))';
const ERROR = `var(--before, ${palette.blue})`;
const HERE = `var(--after, ${palette.vermillion})`;

/** Small, so that its words can still be read on a narrow screen. */
const WIDTH = 440;
const HEIGHT = 290;
const box = { left: 52, right: WIDTH - 14, top: 40, bottom: HEIGHT - 48 };
const curve: CurveStyle = { label: 'Error', color: ERROR, width: 2 };
const MOST_LABELS = 13;

/** The error that remains against the number of bands, the design and the knee marked, the bound as a line. */
export function ErrorCurvePlot({ design }: { readonly design: Design }) {
  const { errorAgainstBands, bound, filters } = design;
  if (!errorAgainstBands) return null;
  const { points, kneeBands, deviceBands } = errorAgainstBands;
  const [first, last] = [points[0]!.bands, points.at(-1)!.bands];
  const x = scaleLinear()
    .domain([first - 0.4, last + 0.4])
    .range([box.left, box.right]);
  const most = Math.max(...points.map(({ rmsDb }) => rmsDb), 0.1);
  const y = scaleLinear().domain([0, most]).nice(4).range([box.bottom, box.top]);
  const places = points.map(({ bands, rmsDb }): readonly [number, number] => [x(bands), y(rmsDb)]);
  const used = points.find(({ bands }) => bands === filters.length);
  const knee = points.find(({ bands }) => bands === kneeBands && bands > first);
  const unavoidableDb = bound?.unavoidableRmsDb ?? 0;
  const step = Math.ceil((last - first + 1) / MOST_LABELS);
  const levels = y.ticks(4);
  const decimals = levels.some((db) => !Number.isInteger(2 * db)) ? 2 : 1;
  return (
    <svg
      xmlns="http://www.w3.org/2000/svg"
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-labelledby="bands-title"
      aria-describedby="bands-description"
      font-family="'Liberation Sans', Arial, Helvetica, sans-serif"
      font-size="13"
    >
      <title id="bands-title">Error that is left, by how many filters are used</title>
      <desc id="bands-description">
        {typeset(`Error against the number of bands: ${kneeWords(design)}.`)}
      </desc>
      <rect width={WIDTH} height={HEIGHT} fill={PAPER} />
      <text x={box.left} y="20" font-size="14" font-weight="700" fill={INK}>
        Error left (dB RMS) by the number of bands
      </text>
      {deviceBands !== undefined && deviceBands < last && (
        <g>
          <rect
            x={coordinate(x(deviceBands + 0.5))}
            width={coordinate(box.right - x(deviceBands + 0.5))}
            y={box.top}
            height={box.bottom - box.top}
            fill={VEIL}
          />
          <text x={box.right - 6} y={box.top + 17} text-anchor="end" fill={SOFT}>
            More than the equalizer has
          </text>
        </g>
      )}
      <g stroke={GRID} stroke-width="0.9">
        {levels.map((db) => (
          <line x1={box.left} x2={box.right} y1={coordinate(y(db))} y2={coordinate(y(db))} />
        ))}
      </g>
      {unavoidableDb >= 0.005 && (
        <g>
          <line
            x1={box.left}
            x2={box.right}
            y1={coordinate(y(unavoidableDb))}
            y2={coordinate(y(unavoidableDb))}
            stroke={INK}
            stroke-width="1.5"
            stroke-dasharray="7 4"
          />
          <text x={box.left + 6} y={coordinate(y(unavoidableDb) + 16)} fill={INK}>
            {typeset(`No number of bands gets below ${unavoidableDb.toFixed(2)}`)}
          </text>
        </g>
      )}
      <CurvePath style={curve} points={places} />
      {places.map(([px, py]) => (
        <circle cx={coordinate(px)} cy={coordinate(py)} r="2.6" fill={curve.color} />
      ))}
      {knee && (
        <g>
          <circle
            cx={coordinate(x(knee.bands))}
            cy={coordinate(y(knee.rmsDb))}
            r="8"
            fill="none"
            stroke={INK}
            stroke-width="1.6"
          />
          <text
            x={coordinate(Math.min(x(knee.bands) + 8, box.right - (used?.bands === knee.bands ? 160 : 34)))}
            y={coordinate(y(knee.rmsDb) - 12)}
            fill={INK}
          >
            {used?.bands === knee.bands ? 'Knee, and as many as here' : 'Knee'}
          </text>
        </g>
      )}
      {used && (
        <g>
          <circle cx={coordinate(x(used.bands))} cy={coordinate(y(used.rmsDb))} r="5" fill={HERE} />
          {used.bands !== knee?.bands && (
            <text
              x={coordinate(Math.min(x(used.bands) + 6, box.right - 104))}
              y={coordinate(y(used.rmsDb) - (Math.abs(used.bands - (knee?.bands ?? -9)) < 3 ? 30 : 12))}
              fill={HERE}
            >
              As many as here
            </text>
          )}
        </g>
      )}
      <g fill={SOFT}>
        {levels.map((db) => (
          <text x={box.left - 7} y={coordinate(y(db) + 4)} text-anchor="end">
            {db.toFixed(decimals)}
          </text>
        ))}
        {points
          .filter(({ bands }) => (bands - first) % step === 0)
          .map(({ bands }) => (
            <text x={coordinate(x(bands))} y={box.bottom + 17} text-anchor="middle">
              {bands}
            </text>
          ))}
        <text x={(box.left + box.right) / 2} y={box.bottom + 37} text-anchor="middle">
          Bands
        </text>
      </g>
      <BoxOutline box={box} />
    </svg>
  );
}
