/** What `--out` leaves behind, in the order in which it is named to the user. */
export const designFileNames = [
  'design.json',
  'filters.csv',
  'filters.txt',
  'coefficients.json',
  'before-after.svg',
  'report.html',
] as const;

export type DesignFileName = (typeof designFileNames)[number];
