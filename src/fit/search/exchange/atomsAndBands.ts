import type { Bands } from '../../bank/bands.js';
import type { Bounds } from '../../bank/bounds.js';
import type { Atom, Atoms } from './atoms.js';
import type { AtomSet } from './exchange.js';

/** A band's own shape is taken at this gain at least. */
const LEAST_GAIN_DB = 0.1;

/** The bank's own bands as atoms, each shape taken at the gain it has. */
export function atomsOf({ types, values }: Bands): Atom[] {
  return Array.from(types, (type, i) => {
    const [lnF, gainDb, lnQ] = values.subarray(3 * i, 3 * i + 3);
    return {
      type,
      lnF: lnF!,
      gainDb: Math.abs(gainDb!) < LEAST_GAIN_DB ? LEAST_GAIN_DB : gainDb!,
      lnQ: lnQ!,
    };
  });
}

/** The bank of a set, its gains drawn in to the bounds. */
export function bandsOf({ list }: Atoms, { members, gainsDb }: AtomSet, bounds: Bounds): Bands {
  const held = members.map((k) => list[k]!);
  return {
    types: Uint8Array.from(held, ({ type }) => type),
    values: Float64Array.from(held.flatMap(({ lnF, lnQ }, i) => [lnF, within(gainsDb[i]!, bounds), lnQ])),
  };
}

const within = (gainDb: number, { peakingLower, peakingUpper }: Bounds) =>
  Math.min(Math.max(gainDb, peakingLower[1]), peakingUpper[1]);
