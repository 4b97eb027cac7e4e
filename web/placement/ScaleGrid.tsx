import { formatLength } from '../../src/units/formatLength.js';
import { type DrawingFrame, drawingSize, MARGIN, type View } from './drawingFrame.js';
import type { Axis } from './surfaceSides.js';

/** Sizes that a square of the grid may have, in metres. */
const SQUARES_M = { cm: [0.1, 0.25, 0.5, 1, 2, 5], in: [0.1524, 0.3048, 0.6096, 1.524, 3.048] };
const LEAST_SQUARE = 44;

interface ScaleGridProps {
  readonly frame: DrawingFrame;
  readonly view: View;
  readonly unit: 'cm' | 'in';
}

/** Squared paper with the size of a square written on it. */
export function ScaleGrid({ frame, view, unit }: ScaleGridProps) {
  const { width, height } = drawingSize(frame, view);
  const sizes = SQUARES_M[unit];
  const squareM = sizes.find((m) => m * frame.scale >= LEAST_SQUARE) ?? sizes[sizes.length - 1]!;
  const lines = (axis: Axis) => {
    const { fromM, toM } = frame.spans[axis];
    const first = Math.ceil(fromM / squareM);
    return Array.from({ length: Math.floor(toM / squareM) - first + 1 }, (_, i) => (first + i) * squareM);
  };
  const x = (m: number) => round(MARGIN + (m - frame.spans[view.right].fromM) * frame.scale);
  const y = (m: number) => {
    const { fromM, toM } = frame.spans[view.down];
    return round(MARGIN + (view.downSign === 1 ? m - fromM : toM - m) * frame.scale);
  };
  const across = lines(view.right).map((m) => `M${x(m)} ${MARGIN}V${round(height - MARGIN)}`);
  const down = lines(view.down).map((m) => `M${MARGIN} ${y(m)}H${round(width - MARGIN)}`);
  return (
    <>
      <path class="grid" d={[...across, ...down].join('')} />
      <text class="scale" x={round(width - MARGIN)} y={round(height - 1)} text-anchor="end">
        {`one square: ${formatLength(squareM, unit)}`}
      </text>
    </>
  );
}

const round = (value: number) => Math.round(value * 10) / 10;
