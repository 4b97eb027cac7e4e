import { type Atoms, productsOf } from './atoms.js';

/**
 * A set of atoms with the gains that fit best, and what every other atom could do beside it. With r_j the products of
 * atom j with the members and P the inverse of the members' own products, `along` holds u_j = P r_j, row by row; beside the
 * members there remain `pull` c_j = (pull of j) − r_j·gains and `energy` s_j = (energy of j) − r_j·u_j. A member more or less
 * changes all of them by one product each.
 */
export interface HeldAtoms {
  readonly atoms: Atoms;
  readonly most: number;
  readonly members: number[];
  readonly gainsDb: Float64Array;
  /** P, rows of `most`. */
  readonly inverse: Float64Array;
  readonly along: readonly Float64Array[];
  readonly pull: Float64Array;
  readonly energy: Float64Array;
  /** Squared error that stays, dB², were the shapes linear in gain. */
  left: number;
  readonly beside: Float64Array;
}

export function holdNone(atoms: Atoms, most: number): HeldAtoms {
  const count = atoms.list.length;
  return {
    atoms,
    most,
    members: [],
    gainsDb: new Float64Array(most),
    inverse: new Float64Array(most * most),
    along: Array.from({ length: most }, () => new Float64Array(count)),
    pull: atoms.pull.slice(0, count),
    energy: atoms.energy.slice(0, count),
    left: atoms.wantedSquare,
    beside: new Float64Array(count),
  };
}

/** Makes `held` hold what `other` does; both of the same atoms. */
export function holdLike(held: HeldAtoms, other: HeldAtoms): void {
  const n = other.members.length;
  held.members.length = 0;
  held.members.push(...other.members);
  held.gainsDb.set(other.gainsDb);
  held.inverse.set(other.inverse);
  for (let i = 0; i < n; i++) held.along[i]!.set(other.along[i]!);
  held.pull.set(other.pull);
  held.energy.set(other.energy);
  held.left = other.left;
}

/** @param k an atom that is not a member and unlike every sum of members (`energy[k]` well above 0) */
export function hold(held: HeldAtoms, k: number): void {
  const { atoms, most, members, gainsDb, inverse, along, pull, energy, beside } = held;
  const n = members.length;
  const count = beside.length;
  const own = Array.from({ length: n }, (_, i) => along[i]![k]!);
  // Products of atom k, less what the members have in common with it, with all.
  beside.set(productsOf(atoms, k).subarray(0, count));
  for (let i = 0; i < n; i++) {
    const product = productsOf(atoms, members[i]!)[k]!;
    const row = along[i]!;
    for (let j = 0; j < count; j++) beside[j]! -= product * row[j]!;
  }
  const perEnergy = 1 / energy[k]!;
  const gainDb = pull[k]! * perEnergy;
  held.left -= gainDb * pull[k]!;
  const added = along[n]!;
  for (let j = 0; j < count; j++) {
    const u = beside[j]! * perEnergy;
    added[j] = u;
    pull[j]! -= beside[j]! * gainDb;
    energy[j]! -= beside[j]! * u;
  }
  for (let i = 0; i < n; i++) {
    const row = along[i]!;
    const u = own[i]!;
    for (let j = 0; j < count; j++) row[j]! -= u * added[j]!;
    gainsDb[i]! -= u * gainDb;
    for (let q = 0; q < n; q++) inverse[i * most + q]! += u * own[q]! * perEnergy;
    inverse[i * most + n] = -u * perEnergy;
    inverse[n * most + i] = -u * perEnergy;
  }
  inverse[n * most + n] = perEnergy;
  gainsDb[n] = gainDb;
  members.push(k);
}

/** Takes the member at place `i` out; the last one moves to its place. */
export function letGo(held: HeldAtoms, i: number): void {
  const { most, members, gainsDb, inverse, along, pull, energy } = held;
  const last = members.length - 1;
  const count = pull.length;
  const p = inverse[i * most + i]!;
  const gone = along[i]!;
  const given = gainsDb[i]! / p;
  for (let j = 0; j < count; j++) {
    const u = gone[j]!;
    pull[j]! += u * given;
    energy[j]! += (u * u) / p;
  }
  held.left += gainsDb[i]! * given;
  const shares = Array.from({ length: last + 1 }, (_, q) => inverse[q * most + i]! / p);
  for (let q = 0; q <= last; q++) {
    if (q === i) continue;
    const share = shares[q]!;
    const row = along[q]!;
    for (let j = 0; j < count; j++) row[j]! -= share * gone[j]!;
    gainsDb[q]! -= share * gainsDb[i]!;
    for (let r = 0; r <= last; r++) if (r !== i) inverse[q * most + r]! -= share * inverse[i * most + r]!;
  }
  if (i !== last) {
    members[i] = members[last]!;
    gainsDb[i] = gainsDb[last]!;
    gone.set(along[last]!);
    for (let q = 0; q < last; q++) {
      if (q === i) continue;
      inverse[i * most + q] = inverse[last * most + q]!;
      inverse[q * most + i] = inverse[q * most + last]!;
    }
    inverse[i * most + i] = inverse[last * most + last]!;
  }
  members.length = last;
}
