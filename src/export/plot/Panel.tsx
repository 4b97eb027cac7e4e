import type { ScaleLinear, ScaleLogarithmic } from 'd3-scale';
import type { ComponentChildren } from 'preact';
import { typeset } from '../words/typeset.js';
import { BoxOutline } from './BoxOutline.js';
import { coordinate } from './coordinate.js';
import { frequencyTicks, minorFrequencyTicksHz } from './frequencyTicks.js';
import type { PanelBox } from './panelBox.js';

interface PanelProps {
  readonly id: string;
  readonly box: PanelBox;
  readonly x: ScaleLogarithmic<number, number>;
  readonly y: ScaleLinear<number, number>;
  readonly levelTicksDb: readonly number[];
  readonly levelTitle: string;
  readonly children: ComponentChildren;
}

/** One pair of axes with its grid; the children are drawn over the grid and clipped to the box. */
export function Panel({ id, box, x, y, levelTicksDb, levelTitle, children }: PanelProps) {
  const { left, right, top, bottom } = box;
  const [lowHz, highHz] = x.domain() as [number, number];
  const inside = (hz: number) => hz >= lowHz && hz <= highHz;
  const middle = coordinate((top + bottom) / 2);
  return (
    <g>
      <clipPath id={`${id}-clip`}>
        <rect x={left} y={top} width={right - left} height={bottom - top} />
      </clipPath>
      <g stroke="#ececec" stroke-width="0.7">
        {minorFrequencyTicksHz.filter(inside).map((hz) => (
          <line x1={coordinate(x(hz))} x2={coordinate(x(hz))} y1={top} y2={bottom} />
        ))}
      </g>
      <g stroke="#d4d4d4" stroke-width="0.9">
        {frequencyTicks
          .filter(({ hz }) => inside(hz))
          .map(({ hz }) => (
            <line x1={coordinate(x(hz))} x2={coordinate(x(hz))} y1={top} y2={bottom} />
          ))}
        {levelTicksDb.map((db) => (
          <line x1={left} x2={right} y1={coordinate(y(db))} y2={coordinate(y(db))} />
        ))}
      </g>
      <g fill="#333" font-size="12" text-anchor="end">
        {levelTicksDb.map((db) => (
          <text x={left - 8} y={coordinate(y(db) + 4)}>
            {typeset(String(db))}
          </text>
        ))}
      </g>
      <text
        x={left - 46}
        y={middle}
        fill="#333"
        font-size="12.5"
        text-anchor="middle"
        transform={`rotate(-90 ${left - 46} ${middle})`}
      >
        {levelTitle}
      </text>
      <g clip-path={`url(#${id}-clip)`}>{children}</g>
      <BoxOutline box={box} />
    </g>
  );
}
