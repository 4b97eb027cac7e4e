import { coordinate } from './coordinate.js';
import type { CurveStyle } from './plotStyle.js';

interface LegendProps {
  readonly x: number;
  readonly y: number;
  readonly items: readonly { readonly style: CurveStyle; readonly width: number }[];
}

/** The curves' names in one row, each behind a piece of its line; `width` is what an item takes up. */
export function Legend({ x, y, items }: LegendProps) {
  let next = x;
  return (
    <g font-size="12.5" fill="#1a1a1a">
      {items.map(({ style, width }) => {
        const start = coordinate(next);
        next += width;
        return (
          <g>
            <line
              x1={start}
              x2={start + 30}
              y1={y - 4}
              y2={y - 4}
              stroke={style.color}
              stroke-width={style.width}
              {...(style.dash === undefined ? {} : { 'stroke-dasharray': style.dash })}
            />
            <text x={start + 37} y={y}>
              {style.label}
            </text>
          </g>
        );
      })}
    </g>
  );
}
