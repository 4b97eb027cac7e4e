import { coordinate } from './coordinate.js';

export interface CellRow {
  readonly top: number;
  readonly bottom: number;
  /** Which of the colours each cell has. */
  readonly steps: readonly number[];
}

interface CellMapProps {
  /** Left edges of the cells and the right edge of the last. */
  readonly edges: readonly number[];
  readonly rows: readonly CellRow[];
  readonly colors: readonly string[];
}

/** Coloured cells as one path a colour, neighbours of the same colour in one piece, so that the file stays small. */
export function CellMap({ edges, rows, colors }: CellMapProps) {
  const pieces = colors.map((): string[] => []);
  for (const { top, bottom, steps } of rows) {
    let start = 0;
    for (let i = 1; i <= steps.length; i++) {
      if (i < steps.length && steps[i] === steps[start]) continue;
      const [left, right] = [coordinate(edges[start]!), coordinate(edges[i]!)];
      pieces[steps[start]!]?.push(`M${left} ${coordinate(top)}H${right}V${coordinate(bottom)}H${left}Z`);
      start = i;
    }
  }
  return (
    <g shape-rendering="crispEdges">
      {pieces.map((each, k) => (each.length > 0 ? <path d={each.join('')} fill={colors[k]} /> : null))}
    </g>
  );
}
