import type { Design } from '../../schema/design.js';

/** Whether the title or a warning says that the data are simulated. */
export function isSimulated(design: Pick<Design, 'title' | 'warnings'>): boolean {
  return (
    /\bsimulat(ed|ion)\b/i.test(design.title) ||
    design.warnings.some((warning) => /\bsimulated\b/i.test(warning.code))
  );
}
