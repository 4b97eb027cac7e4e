import { scaleLinear } from 'd3-scale';
import type { EnergyTimeCurve } from '../../impulse/arrivals/energyTimeCurve.js';
import type { ResponseReport } from '../../schema/response.js';
import { cleanText } from '../words/cleanText.js';
import { gateWords } from '../words/gateWords.js';
import { shorten } from '../words/shorten.js';
import { typeset } from '../words/typeset.js';
import { BoxOutline } from './BoxOutline.js';
import { CurvePath } from './CurvePath.js';
import { coordinate } from './coordinate.js';
import { PlotSheet } from './PlotSheet.js';
import { type CurveStyle, palette } from './plotStyle.js';

const WIDTH = 1000;
const HEIGHT = 470;
const box = { left: 66, right: WIDTH - 22, top: 70, bottom: 412 };
const LOWEST_DB = -60;
const HIGHEST_DB = 6;
const LEAST_AFTER_S = 0.02;
const MOST_AFTER_S = 0.1;
const BEFORE_SHARE = 0.06;
const energy: CurveStyle = { label: 'Energy', color: palette.blue, width: 1.2 };

interface EnergyTimePlotProps {
  readonly report: ResponseReport;
  readonly curve: EnergyTimeCurve;
}

/** How the energy arrives over time, the end of the gate and the reflections marked. */
export function EnergyTimePlot({ report, curve }: EnergyTimePlotProps) {
  const last = Math.max(0, ...report.reflections.map(({ delayS }) => delayS));
  const toS = Math.min(MOST_AFTER_S, Math.max(LEAST_AFTER_S, 1.3 * last));
  const x = scaleLinear()
    .domain([-BEFORE_SHARE * toS, toS])
    .range([box.left, box.right]);
  const y = scaleLinear().domain([LOWEST_DB, HIGHEST_DB]).range([box.bottom, box.top]);
  const points = Array.from(curve.timeS, (s, i) => [s, curve.levelDb[i]!] as const)
    .filter(([s]) => s >= x.domain()[0]! && s <= toS)
    .map(([s, db]): readonly [number, number] => [x(s), y(Math.max(LOWEST_DB, db))]);
  const title = shorten(cleanText(report.title), 80);
  const levels = [0, -10, -20, -30, -40, -50, -60];
  const isGated = report.gating === 'auto' || report.gating === 'given';
  const gateX = isGated && report.gate.afterS <= toS ? coordinate(x(report.gate.afterS)) : undefined;
  return (
    <PlotSheet
      width={WIDTH}
      height={HEIGHT}
      title={`Energy over time: ${title}`}
      description={typeset(`Level relative to the direct sound. Gate: ${gateWords(report)}.`)}
      left={box.left}
      heading={title}
      subtitle={typeset(
        `Energy over time, relative to the direct sound; ${report.reflections.length} reflections marked`,
      )}
    >
      <g stroke="#d4d4d4" stroke-width="0.9">
        {levels.map((db) => (
          <line x1={box.left} x2={box.right} y1={coordinate(y(db))} y2={coordinate(y(db))} />
        ))}
        {x.ticks(10).map((s) => (
          <line x1={coordinate(x(s))} x2={coordinate(x(s))} y1={box.top} y2={box.bottom} />
        ))}
      </g>
      <CurvePath style={energy} points={points} />
      {gateX !== undefined && (
        <g>
          <line x1={gateX} x2={gateX} y1={box.top} y2={box.bottom} stroke="#333" stroke-dasharray="6 4" />
          <text x={gateX + 5} y={box.top + 14} font-size="12" fill="#333">
            end of the gate
          </text>
        </g>
      )}
      {report.reflections
        .filter(({ delayS }) => delayS <= toS)
        .map(({ delayS, levelDb }) => (
          <circle
            cx={coordinate(x(delayS))}
            cy={coordinate(y(Math.min(HIGHEST_DB, Math.max(LOWEST_DB, levelDb))))}
            r="4"
            fill="none"
            stroke={palette.vermillion}
            stroke-width="1.6"
          />
        ))}
      <g font-size="12" fill="#333">
        {levels.map((db) => (
          <text x={box.left - 8} y={coordinate(y(db) + 4)} text-anchor="end">
            {typeset(String(db))}
          </text>
        ))}
        {x.ticks(10).map((s) => (
          <text x={coordinate(x(s))} y={box.bottom + 17} text-anchor="middle">
            {Number((1000 * s).toFixed(3))}
          </text>
        ))}
        <text x={(box.left + box.right) / 2} y={box.bottom + 38} text-anchor="middle" font-size="12.5">
          Time after the direct sound (ms)
        </text>
        <text
          x={box.left - 46}
          y={(box.top + box.bottom) / 2}
          text-anchor="middle"
          font-size="12.5"
          transform={`rotate(-90 ${box.left - 46} ${(box.top + box.bottom) / 2})`}
        >
          Level (dB)
        </text>
      </g>
      <BoxOutline box={box} />
    </PlotSheet>
  );
}
