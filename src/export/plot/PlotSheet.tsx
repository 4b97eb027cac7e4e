import type { ComponentChildren } from 'preact';

interface PlotSheetProps {
  readonly width: number;
  readonly height: number;
  /** Of the drawing as a whole, for those who do not see it. */
  readonly title: string;
  readonly description: string;
  readonly left: number;
  readonly heading?: string;
  readonly subtitle?: string;
  readonly children: ComponentChildren;
}

/** A drawing with its title and description, white ground, heading and subtitle where there are such. */
export function PlotSheet(props: PlotSheetProps) {
  const { width, height, title, description, left, heading, subtitle, children } = props;
  return (
    <svg
      xmlns="http://www.w3.org/2000/svg"
      viewBox={`0 0 ${width} ${height}`}
      width={width}
      height={height}
      role="img"
      aria-labelledby="plot-title plot-description"
      font-family="'Liberation Sans', Arial, Helvetica, sans-serif"
    >
      <title id="plot-title">{title}</title>
      <desc id="plot-description">{description}</desc>
      <rect width={width} height={height} fill="#fff" />
      {heading !== undefined && (
        <text x={left} y="28" font-size="19" font-weight="700" fill="#111">
          {heading}
        </text>
      )}
      {subtitle !== undefined && (
        <text x={left} y="50" font-size="13" fill="#333">
          {subtitle}
        </text>
      )}
      {children}
    </svg>
  );
}
