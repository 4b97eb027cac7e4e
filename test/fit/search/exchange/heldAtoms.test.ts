import { lusolve } from 'mathjs';
import { describe, expect, test } from 'vitest';
import { type Atoms, createAtoms, productsOf } from '../../../../src/fit/search/exchange/atoms.js';
import { type HeldAtoms, hold, holdNone, letGo } from '../../../../src/fit/search/exchange/heldAtoms.js';
import { seededRandom } from '../../../../src/fit/seededRandom.js';
import { someAtoms } from './someAtoms.js';

const DB = 1e-7;

/** Gains of the members by the library's solver, and the square of what they leave. */
function solved(atoms: Atoms, members: readonly number[]) {
  const matrix = members.map((i) =>
    members.map((k) => (i === k ? atoms.energy[i]! : productsOf(atoms, i)[k]!)),
  );
  const right = members.map((k) => atoms.pull[k]!);
  const gains = (lusolve(matrix, right) as number[][]).map(([gain]) => gain!);
  return { gains, left: atoms.wantedSquare - gains.reduce((sum, gain, i) => sum + gain * right[i]!, 0) };
}

function expectSolved(held: HeldAtoms) {
  const { gains, left } = solved(held.atoms, held.members);
  gains.forEach((gain, i) => {
    expect(held.gainsDb[i]).toBeCloseTo(gain, 6);
  });
  expect(Math.abs(held.left - left)).toBeLessThan(DB);
}

describe('held atoms', () => {
  const { atoms } = someAtoms(4);
  const random = seededRandom(2);
  const another = (held: HeldAtoms) => {
    for (;;) {
      const k = Math.floor(random() * atoms.list.length);
      if (held.energy[k]! > 0.05 * atoms.energy[k]!) return k;
    }
  };

  test('gains and what is left are those of the normal equations, whatever came and went before', () => {
    const held = holdNone(atoms, 6);
    for (let step = 0; step < 60; step++) {
      if (held.members.length === 6 || (held.members.length > 1 && random() < 0.4)) {
        letGo(held, Math.floor(random() * held.members.length));
      } else hold(held, another(held));
      expectSolved(held);
    }
  });

  test('what an atom would take away on top of the members is known beforehand', () => {
    const held = holdNone(atoms, 5);
    for (let i = 0; i < 4; i++) hold(held, another(held));
    const k = another(held);
    const foretold = held.left - held.pull[k]! ** 2 / held.energy[k]!;
    expect(solved(atoms, [...held.members, k]).left).toBeCloseTo(foretold, 8);
  });
});

test('the level counts for nothing where it is free', () => {
  const { grid, dictionary, wantedDb } = someAtoms(5);
  const lifted = wantedDb.map((db) => db + 7);
  const squares = [wantedDb, lifted].map((db) => createAtoms(dictionary, grid, db, true, 0).wantedSquare);
  expect(squares[1]).toBeCloseTo(squares[0]!, 9);
  expect(createAtoms(dictionary, grid, lifted, false, 0).wantedSquare).toBeGreaterThan(squares[0]! + 40);
});
