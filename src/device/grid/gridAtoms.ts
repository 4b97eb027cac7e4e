import { nearestPlace } from '../../curve/nearestPlace.js';
import { log, log2 } from '../../elementary/logarithm.js';
import type { FilterType } from '../../filter/filter.js';
import type { BandTable, GridBand } from './bandTable.js';
import type { GridRest } from './gridCost.js';

/** A tabulated band that stands for those of the same frequency, about its Q and about its gain. */
interface GridAtom {
  readonly band: GridBand;
  readonly gainDb: number;
  readonly responseDb: Float32Array;
  readonly spread: number;
}

/** Bands for filling in where error remains, spread over the choices. */
export interface GridAtoms {
  readonly atoms: readonly GridAtom[];
  readonly table: BandTable;
}

const FREQUENCIES_PER_OCTAVE = 6;
const QS = 10;
/** Gains whose shapes stand for the others: a band changes its shape with the gain. */
const GAINS_DB = [-8, -3, 3, 8];

export function createGridAtoms(table: BandTable, types: readonly FilterType[]): GridAtoms {
  const { frequencyHz, gainDb, q } = table.choices;
  const frequencies = thinned(frequencyHz, (hz) => Math.round(FREQUENCIES_PER_OCTAVE * log2(hz)));
  const widest = log(q.at(-1)! / q[0]!) || 1;
  const qs = thinned(q, (value) => Math.round(((QS - 1) * log(value / q[0]!)) / widest));
  const gains = [...new Set(GAINS_DB.map((db) => nearestPlace(gainDb, db)))];
  const atoms: GridAtom[] = [];
  for (const type of types) {
    for (const frequency of frequencies) {
      for (const qPlace of qs) {
        for (const gain of gains) {
          const band = { type, frequency, gain, q: qPlace };
          const response = table.responseOf(band);
          if (response && response.spread > 0) atoms.push({ ...response, band, gainDb: gainDb[gain]! });
        }
      }
    }
  }
  return { atoms, table };
}

/** An atom may be scaled so far before its shape means little. */
const SCALE = { least: 0.15, most: 2 };

/** The `count` bands that take most of what remains, the best first, no two of one type at one frequency. */
export function bestAtoms({ atoms, table }: GridAtoms, { weighted }: GridRest, count: number): GridBand[] {
  const best: { atom: GridAtom; scale: number; worth: number }[] = [];
  for (const atom of atoms) {
    const { responseDb, spread } = atom;
    let along = 0;
    for (let p = 0; p < weighted.length; p++) along += weighted[p]! * responseDb[p]!;
    const scale = Math.min(SCALE.most, -along / spread);
    if (scale < SCALE.least) continue;
    const worth = -scale * (2 * along + scale * spread);
    if (best.length === count && worth <= best.at(-1)!.worth) continue;
    const same = best.findIndex(
      (other) => other.atom.band.type === atom.band.type && other.atom.band.frequency === atom.band.frequency,
    );
    if (same >= 0 && best[same]!.worth >= worth) continue;
    if (same >= 0) best.splice(same, 1);
    const place = best.findIndex((other) => other.worth < worth);
    best.splice(place < 0 ? best.length : place, 0, { atom, scale, worth });
    best.length = Math.min(best.length, count);
  }
  return best.map(({ atom, scale }) => ({
    ...atom.band,
    gain: nearestPlace(table.choices.gainDb, atom.gainDb * scale),
  }));
}

/** Places of the first value of each class. */
function thinned(values: readonly number[], classOf: (value: number) => number): number[] {
  return Array.from(values.keys()).filter((i) => i === 0 || classOf(values[i]!) !== classOf(values[i - 1]!));
}
