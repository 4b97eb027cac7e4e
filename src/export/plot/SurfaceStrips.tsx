import type { ScaleLogarithmic } from 'd3-scale';
import type { Prediction } from '../../schema/prediction.js';
import { cleanText } from '../words/cleanText.js';
import { shorten } from '../words/shorten.js';
import { coordinate } from './coordinate.js';
import type { PanelBox } from './panelBox.js';
import { palette } from './plotStyle.js';

const ROW = 34;

/** How tall the strips of so many surfaces are. */
export function stripsHeight(count: number): number {
  return count * ROW;
}

/** A strip for each surface: a mark at every cancellation, as tall as it is deep, and a ring at every reinforcement. */
export function SurfaceStrips({
  prediction,
  box,
  x,
}: {
  readonly prediction: Prediction;
  readonly box: PanelBox;
  readonly x: ScaleLogarithmic<number, number>;
}) {
  const [lowHz, highHz] = x.domain() as [number, number];
  const inside = (hz: number) => hz >= lowHz && hz <= highHz;
  return (
    <g>
      {prediction.surfaces.map((surface, k) => {
        const base = box.top + (k + 1) * ROW;
        return (
          <g>
            <line x1={box.left} x2={box.right} y1={base} y2={base} stroke="#d4d4d4" />
            <text x={box.left - 8} y={base - 9} font-size="12.5" fill="#333" text-anchor="end">
              {shorten(cleanText(surface.name), 17)}
            </text>
            {surface.dips.map((dip) => {
              const height = Math.min(ROW - 6, 3 + 1.4 * dip.depthDb);
              return inside(dip.expectedHz) ? (
                <g>
                  {dip.fromHz === undefined || dip.toHz === undefined ? null : (
                    <rect
                      x={coordinate(x(Math.max(lowHz, dip.fromHz)))}
                      y={base - 4}
                      width={Math.max(
                        1,
                        coordinate(x(Math.min(highHz, dip.toHz)) - x(Math.max(lowHz, dip.fromHz))),
                      )}
                      height="4"
                      fill={palette.blue}
                      fill-opacity="0.25"
                    />
                  )}
                  <rect
                    x={coordinate(x(dip.expectedHz) - 2)}
                    y={coordinate(base - height)}
                    width="4"
                    height={coordinate(height)}
                    fill={palette.blue}
                  />
                </g>
              ) : null;
            })}
            {surface.reinforcementsHz.filter(inside).map((hz) => (
              <circle
                cx={coordinate(x(hz))}
                cy={base - 7}
                r="3.5"
                fill="none"
                stroke={palette.vermillion}
                stroke-width="1.5"
              />
            ))}
          </g>
        );
      })}
    </g>
  );
}
