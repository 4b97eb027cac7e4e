import { pointsPerOctave } from '../curve/pointsPerOctave.js';
import type { Measurement } from '../measurement/measurement.js';
import type { Warning } from '../warning.js';

/** Fewer points an octave cannot show the comb of a reflection: its dips look like wide ones of the speaker. */
const LEAST = 9;
const ENOUGH = 24;

/** Warnings for measurements whose points lie too far apart to tell the placement's dips from the speaker's. */
export function coarseMeasurements(measurements: readonly Measurement[]): Warning[] {
  return measurements.flatMap(({ curve: { frequencyHz }, fileName }) => {
    const found = pointsPerOctave(frequencyHz, frequencyHz[0]!, frequencyHz.at(-1)!);
    if (found >= LEAST) return [];
    return [
      {
        code: 'coarse-measurement',
        message:
          `Only about ${Number(found.toPrecision(2))} points an octave in ${fileName}: a dip that a reflection makes looks ` +
          `like a wide one of the speaker's own there, and may be filled. Measure or export with ${ENOUGH} points an ` +
          'octave or more, unsmoothed.',
      },
    ];
  });
}
