import { describe, expect, test } from 'vitest';
import { LOW_SHELF, PEAKING } from '../../../../src/fit/bank/bands.js';
import { addForAWhile } from '../../../../src/fit/search/exchange/atoms.js';
import { exchangeSets } from '../../../../src/fit/search/exchange/exchange.js';
import { hold, holdNone } from '../../../../src/fit/search/exchange/heldAtoms.js';
import { seededRandom } from '../../../../src/fit/seededRandom.js';
import { someAtoms } from './someAtoms.js';

const OPTIONS = {
  maxMembers: 4,
  kicks: 12,
  keep: 5,
  minGainDb: -15,
  maxGainDb: 8,
  isAllowed: () => true,
};

describe('exchange of atoms', () => {
  const { atoms } = someAtoms(3);
  const sets = exchangeSets(atoms, OPTIONS, seededRandom(1));
  const best = sets[0]!;
  const leftBy = (members: readonly number[]) => {
    const held = holdNone(atoms, 4);
    for (const k of members) hold(held, k);
    return held;
  };

  test('no single exchange wins more than a thousandth of what the best set leaves', () => {
    for (const out of best.members) {
      const rest = leftBy(best.members.filter((k) => k !== out));
      for (let k = 0; k < atoms.list.length; k++) {
        const gainDb = rest.pull[k]! / rest.energy[k]!;
        if (rest.energy[k]! < 0.01 * atoms.energy[k]! || gainDb < -15 || gainDb > 8) continue;
        expect(rest.left - gainDb * rest.pull[k]!).toBeGreaterThan(0.999 * best.left);
      }
    }
  });

  test('hands back different sets, the best first, with gains that leave what is said', () => {
    expect(sets.length).toBeGreaterThan(2);
    expect(new Set(sets.map(({ members }) => [...members].sort().join())).size).toBe(sets.length);
    sets.forEach(({ members, gainsDb, left }, i) => {
      const held = leftBy(members);
      expect(held.left).toBeCloseTo(left, 8);
      gainsDb.forEach((gainDb, at) => {
        expect(gainDb).toBeCloseTo(held.gainsDb[at]!, 6);
      });
      expect(left).toBeGreaterThanOrEqual(sets[Math.max(0, i - 1)]!.left);
    });
  });

  test('kicks only ever better the best set', () => {
    const unkicked = exchangeSets(atoms, { ...OPTIONS, kicks: 0 }, seededRandom(1))[0]!;
    expect(best.left).toBeLessThanOrEqual(unkicked.left);
  });

  test('takes only types that can be had at once', () => {
    const oneShelf = (types: readonly number[]) =>
      types.every((type) => type === PEAKING || type === LOW_SHELF) &&
      types.filter((type) => type === LOW_SHELF).length <= 1;
    const held = exchangeSets(atoms, { ...OPTIONS, isAllowed: oneShelf }, seededRandom(1));
    for (const { members } of held) expect(oneShelf(members.map((k) => atoms.type[k]!))).toBe(true);
    const none = exchangeSets(atoms, { ...OPTIONS, isAllowed: () => false }, seededRandom(1));
    expect(none).toEqual([]);
  });

  test('finds a set again whose atoms were added for a while', () => {
    const { atoms: own, wantedDb } = someAtoms(7);
    const added = [
      { type: PEAKING, lnF: Math.log(333), gainDb: -6, lnQ: Math.log(3.3) },
      { type: LOW_SHELF, lnF: Math.log(97), gainDb: 4, lnQ: Math.log(0.61) },
    ];
    addForAWhile(own, added);
    expect(own.list.length).toBe(own.inDictionary + 2);
    const start = [own.inDictionary, own.inDictionary + 1];
    const [set] = exchangeSets(own, { ...OPTIONS, maxMembers: 2, kicks: 0 }, seededRandom(1), start);
    const held = holdNone(own, 2);
    for (const k of start) hold(held, k);
    expect(set!.left).toBeLessThanOrEqual(held.left + 1e-9);
    addForAWhile(own, []);
    expect(own.list.length).toBe(own.inDictionary);
    expect(wantedDb.length).toBeGreaterThan(100);
  });
});
