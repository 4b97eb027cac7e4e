import { bankValues } from '../../bank/bankKernel.js';
import type { FitGrid } from '../../problem/fitGrid.js';
import { product, weighted } from '../weightedProducts.js';

/** Where a band stands, and the gain at which its shape is taken. */
export interface Atom {
  readonly type: number;
  readonly lnF: number;
  readonly gainDb: number;
  readonly lnQ: number;
}

/**
 * Bands whose shapes in dB are taken to be proportional to their gain, which they nearly are. Of a set of them the best
 * gains are then a linear least-squares problem, and what another set would leave follows from the products of shapes.
 */
export interface Atoms {
  /** The dictionary, and after it what was added for a while. */
  readonly list: Atom[];
  readonly inDictionary: number;
  readonly points: number;
  readonly type: Uint8Array;
  /** Of atom k from `k · points` on: dB per dB of gain, times the root of the weight, about the mean where the level is free. */
  readonly shapes: Float64Array;
  /** Squares of the shapes, a little more than they are, so that no set of alike ones takes gains against each other. */
  readonly energy: Float64Array;
  /** Products of the shapes with the EQ that is wanted, and that EQ's own square, dB². */
  readonly pull: Float64Array;
  readonly wantedSquare: number;
  /** Products of shape k with all shapes, made when they are first asked for. */
  readonly products: (Float64Array | undefined)[];
  readonly append: (added: readonly Atom[]) => void;
  /** Where limits press (see pressedAtoms.ts): the atoms without that, and the shapes at those points. */
  readonly pressed?: { readonly base: Atoms; readonly points: number; readonly shapes: Float64Array };
}

const RIDGE = 2e-4;
/** Keeps a shape that is nothing but a constant from counting. */
const LEAST_ENERGY = 1e-9;

/**
 * @param wantedDb EQ that would mend everything, at the grid's error points at least
 * @param levelFree whether a constant on top of the EQ counts for nothing
 * @param room so many atoms can be added for a while
 */
export function createAtoms(
  dictionary: readonly Atom[],
  grid: FitGrid,
  wantedDb: Float64Array,
  levelFree: boolean,
  room: number,
): Atoms {
  const { errorPoints: points, sampleRateHz } = grid;
  const weight = grid.weight.subarray(0, points);
  const warped = grid.warped.subarray(0, points);
  const capacity = dictionary.length + room;
  const wanted = weighted(wantedDb.subarray(0, points), weight, levelFree);
  const list: Atom[] = [];
  const type = new Uint8Array(capacity);
  const shapes = new Float64Array(capacity * points);
  const energy = new Float64Array(capacity);
  const pull = new Float64Array(capacity);
  const db = new Float64Array(points);
  const append = (added: readonly Atom[]) => {
    for (const atom of added) {
      const k = list.length;
      bankValues(
        Uint8Array.of(atom.type),
        Float64Array.of(atom.lnF, atom.gainDb, atom.lnQ),
        warped,
        sampleRateHz,
        db,
      );
      for (let p = 0; p < points; p++) db[p]! /= atom.gainDb;
      const shape = weighted(db, weight, levelFree);
      shapes.set(shape, k * points);
      type[k] = atom.type;
      energy[k] = product(shape, 0, shape, 0, points) * (1 + RIDGE) + LEAST_ENERGY;
      pull[k] = product(shape, 0, wanted, 0, points);
      list.push(atom);
    }
  };
  append(dictionary);
  return {
    list,
    inDictionary: dictionary.length,
    points,
    type,
    shapes,
    energy,
    pull,
    wantedSquare: product(wanted, 0, wanted, 0, points),
    products: new Array<Float64Array | undefined>(capacity),
    append,
  };
}

/** Puts `added` in place of what was added before. */
export function addForAWhile(
  { list, inDictionary, products, points, shapes, energy, pull, append }: Atoms,
  added: readonly Atom[],
) {
  list.length = inDictionary;
  products.fill(undefined, inDictionary);
  append(added);
  energy.fill(0, list.length);
  pull.fill(0, list.length);
  for (let k = 0; k < inDictionary; k++) {
    const row = products[k];
    if (!row) continue;
    row.fill(0, list.length);
    for (let j = inDictionary; j < list.length; j++) {
      row[j] = product(shapes, k * points, shapes, j * points, points);
    }
  }
}

/** Products of the shape of atom `k` with all. */
export function productsOf(atoms: Atoms, k: number): Float64Array {
  const { list, points, shapes, products, type, pressed } = atoms;
  const known = products[k];
  if (known) return known;
  const made = pressed ? productsOf(pressed.base, k).slice() : new Float64Array(type.length);
  for (let j = 0; j < list.length; j++) {
    made[j] = pressed
      ? made[j]! +
        product(pressed.shapes, k * pressed.points, pressed.shapes, j * pressed.points, pressed.points)
      : (products[j]?.[k] ?? product(shapes, k * points, shapes, j * points, points));
  }
  products[k] = made;
  return made;
}
