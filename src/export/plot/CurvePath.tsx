import { line } from 'd3-shape';
import type { CurveStyle } from './plotStyle.js';

interface CurvePathProps {
  readonly style: CurveStyle;
  readonly points: readonly (readonly [number, number])[];
}

/** One curve in drawing coordinates. */
export function CurvePath({ style, points }: CurvePathProps) {
  const path = line<readonly [number, number]>()
    .x((point) => point[0])
    .y((point) => point[1])
    .digits(1)([...points]);
  return (
    <path
      d={path ?? ''}
      fill="none"
      stroke={style.color}
      stroke-width={style.width}
      stroke-linejoin="round"
      {...(style.dash === undefined ? {} : { 'stroke-dasharray': style.dash })}
    />
  );
}
