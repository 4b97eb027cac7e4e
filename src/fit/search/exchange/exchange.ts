import type { Atoms } from './atoms.js';
import { type HeldAtoms, hold, holdLike, holdNone, letGo } from './heldAtoms.js';

/** Some of the atoms with the gains that fit best. */
export interface AtomSet {
  readonly members: readonly number[];
  readonly gainsDb: readonly number[];
  /** Squared error that stays, dB², were the shapes linear in gain. */
  readonly left: number;
}

export interface ExchangeOptions {
  readonly maxMembers: number;
  /** How often members are thrown out and others put in by chance before all is exchanged again. */
  readonly kicks: number;
  /** So many sets are handed back at most. */
  readonly keep: number;
  /** No atom comes in at a gain beyond these; those that are in may be carried beyond by others. */
  readonly minGainDb: number;
  readonly maxGainDb: number;
  /** A chain may drift over ground this much worse; by little where absent. */
  readonly drift?: number;
  /** Whether bands of these types can be had at once. */
  readonly isAllowed: (types: readonly number[]) => boolean;
}

/** What can be left of a shape beside the set, as a share of its energy, before it counts as part of the set. */
const ALIKE = 0.004;
/** An exchange that wins less than this share of what is left is not worth a step. */
const WORTH_A_STEP = 1e-4;
const MOST_STEPS = 60;
const DRIFT = 1.02;
/** The share of kicks that take out neighbours; the others take out any. */
const SHARE_OF_NEIGHBOURS = 0.6;

/**
 * Sets of atoms that leave little: one is built up, always by the atom that helps most, and single members are exchanged
 * for others as long as that wins; then some members are thrown out, others put in by chance, and all is exchanged again.
 * What every exchange would leave is known without solving anything anew.
 *
 * @returns the best first
 */
export function exchangeSets(
  atoms: Atoms,
  options: ExchangeOptions,
  random: () => number,
  start: readonly number[] = [],
): AtomSet[] {
  const found = new Map<string, AtomSet>();
  const current = holdNone(atoms, options.maxMembers);
  for (const k of start) if (isApart(current, k)) hold(current, k);
  fill(current, options, () => 1);
  exchangeAll(current, options);
  note(found, current);
  const trial = holdNone(atoms, options.maxMembers);
  for (let kick = 0; kick < options.kicks && current.members.length > 1; kick++) {
    holdLike(trial, current);
    const gone = thrownOut(atoms, current.members, random);
    for (const k of gone) letGo(trial, trial.members.indexOf(k));
    fill(trial, options, () => 0.5 + random(), gone);
    exchangeAll(trial, options);
    note(found, trial);
    if (trial.left < current.left * (options.drift ?? DRIFT)) holdLike(current, trial);
  }
  return [...found.values()]
    .filter(({ members }) => members.length > 0)
    .sort((a, b) => a.left - b.left)
    .slice(0, options.keep);
}

function note(found: Map<string, AtomSet>, { members, gainsDb, left }: HeldAtoms): void {
  const set = { members: [...members], gainsDb: [...gainsDb.subarray(0, members.length)], left };
  found.set([...members].sort((a, b) => a - b).join(), set);
}

/** Whether an atom is unlike every sum of the members. */
const isApart = ({ atoms, energy }: HeldAtoms, k: number) => energy[k]! > ALIKE * atoms.energy[k]!;

/** The exchange that wins most, again and again. */
function exchangeAll(held: HeldAtoms, options: ExchangeOptions): void {
  for (let step = 0; step < MOST_STEPS; step++) {
    const best = bestExchange(held, options);
    if (!best || best.wins < WORTH_A_STEP * held.left) return;
    letGo(held, best.out);
    hold(held, best.in);
  }
}

interface Exchange {
  /** Place of the member that goes, and the atom that comes. */
  readonly out: number;
  readonly in: number;
  /** Squared error that it takes away, dB². */
  readonly wins: number;
}

/**
 * Beside all members but i there remain c + u_i g_i / P_ii of an atom's pull and s + u_i² / P_ii of its energy, and
 * letting go of member i gives back g_i² / P_ii (see heldAtoms.ts).
 */
function bestExchange(held: HeldAtoms, options: ExchangeOptions): Exchange | undefined {
  const { atoms, most, members, gainsDb, inverse, along, pull, energy } = held;
  const { minGainDb, maxGainDb } = options;
  const { type } = atoms;
  let [bestOut, bestIn, wins] = [-1, -1, 0];
  for (let i = 0; i < members.length; i++) {
    const perP = 1 / inverse[i * most + i]!;
    const given = gainsDb[i]! * perP;
    const back = gainsDb[i]! * given;
    const row = along[i]!;
    const can = typesBeside(held, options, i);
    for (let j = 0; j < pull.length; j++) {
      const u = row[j]!;
      const c = pull[j]! + u * given;
      const s = energy[j]! + u * u * perP;
      if (c * c <= (wins + back) * s || s < ALIKE * atoms.energy[j]! || !((can >> type[j]!) & 1)) continue;
      const gainDb = c / s;
      if (gainDb <= minGainDb || gainDb >= maxGainDb) continue;
      wins = c * gainDb - back;
      bestOut = i;
      bestIn = j;
    }
  }
  return bestOut < 0 ? undefined : { out: bestOut, in: bestIn, wins };
}

/** Adds the atom that helps most, its benefit times what `favour` gives, until the set is full or none helps. */
function fill(
  held: HeldAtoms,
  options: ExchangeOptions,
  favour: () => number,
  except?: ReadonlySet<number>,
): void {
  const { atoms, pull, energy } = held;
  while (held.members.length < options.maxMembers) {
    const can = typesBeside(held, options);
    let [best, most] = [-1, 0];
    for (let j = 0; j < pull.length; j++) {
      const s = energy[j]!;
      if (s < ALIKE * atoms.energy[j]! || !((can >> atoms.type[j]!) & 1) || except?.has(j)) continue;
      const gainDb = pull[j]! / s;
      if (gainDb <= options.minGainDb || gainDb >= options.maxGainDb) continue;
      const worth = pull[j]! * gainDb * favour();
      if (worth > most) [best, most] = [j, worth];
    }
    if (best < 0) return;
    hold(held, best);
  }
}

/** Two or three members, neighbours in frequency or any. */
function thrownOut({ list }: Atoms, members: readonly number[], random: () => number): Set<number> {
  const order = [...members].sort((a, b) => list[a]!.lnF - list[b]!.lnF);
  const any = () => Math.floor(random() * order.length);
  const count = Math.min(order.length, 2 + Math.floor(2 * random()));
  const first = any();
  const near = (i: number) => (random() < SHARE_OF_NEIGHBOURS ? i : any());
  return new Set(Array.from({ length: count }, (_, i) => order[(first + near(i)) % order.length]!));
}

/** A bit for each type of which one can be had beside the members, the one at place `except` left out. */
function typesBeside({ atoms, members }: HeldAtoms, { isAllowed }: ExchangeOptions, except = -1): number {
  const types = members.filter((_, i) => i !== except).map((k) => atoms.type[k]!);
  return [0, 1, 2].reduce((bits, type) => bits | (Number(isAllowed([...types, type])) << type), 0);
}
