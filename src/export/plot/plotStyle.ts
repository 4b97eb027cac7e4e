/**
 * Colours of the Okabe–Ito palette, told apart by the colour-blind (Okabe & Ito, "Color Universal Design", 2008).
 * In grey the curves still differ by width and dash.
 */
export const palette = {
  blue: '#0072b2',
  vermillion: '#d55e00',
  green: '#009e73',
  purple: '#cc79a7',
} as const;

export interface CurveStyle {
  readonly label: string;
  readonly color: string;
  readonly width: number;
  /** SVG dash pattern; solid where absent. */
  readonly dash?: string;
}

export const curveStyles = {
  measured: { label: 'Measured', color: '#9a9a9a', width: 0.9 },
  smoothed: { label: 'Measured, smoothed', color: palette.blue, width: 1.7 },
  target: { label: 'Target', color: '#1a1a1a', width: 1.5, dash: '7 4' },
  expected: { label: 'Expected with the filters', color: palette.vermillion, width: 2.8 },
  eq: { label: 'Sum of all filters', color: palette.green, width: 2.2 },
} as const satisfies Record<string, CurveStyle>;
