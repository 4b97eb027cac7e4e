import type { Curve } from '../curve/curve.js';
import { logGrid } from '../curve/logGrid.js';
import { resampleToGrid } from '../curve/resampleToGrid.js';
import { smoothOctave } from '../curve/smoothOctave.js';

/** Over how many octaves each of two measurements was smoothed before it came; 0 where it was not. */
export interface Smoothings {
  readonly before: number;
  readonly after: number;
}

export const widestOf = ({ before, after }: Smoothings): number => Math.max(before, after);

/** What a smoothed measurement shows of filters. */
export interface ThroughSmoothing {
  /** Where the filters' own response is asked for. */
  readonly frequencyHz: Float64Array;
  /** Level shown with so much added, less the level shown without, in dB on the grid. */
  shownDb(addedDb: Float64Array): Float64Array;
}

/** Two measurements, each smoothed as the other came. */
export interface SmoothedAlike {
  readonly before: Curve;
  readonly after: Curve;
  throughFor(gridHz: Float64Array): ThroughSmoothing;
}

/**
 * Smooths each of two measurements over what the other was smoothed over: means of power commute, so that both have
 * then lost the same. Of filters g on a speaker h a mean shows ⟨|h·g|²⟩ against ⟨|h|²⟩, and not ⟨|g|²⟩: a boost in a
 * dip of the speaker shows less of itself than one on its peak. Where only the smoothed level of the speaker is
 * known, that is taken for h.
 */
export function smoothedAlike(before: Curve, after: Curve, smoothings: Smoothings): SmoothedAlike {
  const [plain, later] = [dense(before), dense(after)];
  const asShown = (curve: Curve) => smoothOctave(smoothOctave(curve, smoothings.before), smoothings.after);
  const shown = asShown(plain);
  return {
    before: smoothOctave(plain, smoothings.after),
    after: smoothOctave(later, smoothings.before),
    throughFor: (wantedHz) => {
      const { frequencyHz, levelDb } = plain;
      // A file's first frequency, rounded, may lie a little before the first point of the dense grid.
      const ends = [frequencyHz[0]!, frequencyHz[frequencyHz.length - 1]!] as const;
      const gridHz = wantedHz.map((hz) => Math.min(ends[1], Math.max(ends[0], hz)));
      const without = resampleToGrid(shown, gridHz).levelDb;
      return {
        frequencyHz,
        shownDb: (addedDb) => {
          const withThem = asShown({ frequencyHz, levelDb: levelDb.map((db, i) => db + addedDb[i]!) });
          return resampleToGrid(withThem, gridHz).levelDb.map((db, i) => db - without[i]!);
        },
      };
    },
  };
}

/** Over all there is, so that the ends are smoothed too. */
function dense(curve: Curve): Curve {
  const { frequencyHz } = curve;
  return resampleToGrid(curve, logGrid(frequencyHz[0]!, frequencyHz[frequencyHz.length - 1]!));
}
