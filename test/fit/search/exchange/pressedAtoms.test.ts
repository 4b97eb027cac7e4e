import { expect, test } from 'vitest';
import { bankResponseDb } from '../../../../src/filter/bankResponseDb.js';
import { type Bands, bandsFromFilters, filtersFromBands } from '../../../../src/fit/bank/bands.js';
import { boundsOf } from '../../../../src/fit/bank/bounds.js';
import { createObjective } from '../../../../src/fit/objective/objective.js';
import { cellGrid } from '../../../../src/fit/problem/fitGrid.js';
import { refine } from '../../../../src/fit/refinement/refine.js';
import { atomDictionary } from '../../../../src/fit/search/exchange/atomDictionary.js';
import {
  type Atoms,
  addForAWhile,
  createAtoms,
  productsOf,
} from '../../../../src/fit/search/exchange/atoms.js';
import { atomsOf, bandsOf } from '../../../../src/fit/search/exchange/atomsAndBands.js';
import { exchangeSets } from '../../../../src/fit/search/exchange/exchange.js';
import { pressedAtoms } from '../../../../src/fit/search/exchange/pressedAtoms.js';
import { wantedEq } from '../../../../src/fit/search/exchange/wantedEq.js';
import { seededRandom } from '../../../../src/fit/seededRandom.js';
import { problemOf } from '../../problems.js';
import { someAtoms } from './someAtoms.js';

const BANDS = 4;
const ZONE = { fromHz: 500, toHz: 900 };
/** A wide hole about a zone in which nothing may be boosted: without the zone's limit it would be filled. */
const problem = problemOf({
  deviationDb: (hz) => hz.map((f) => -5 * Math.exp(-((Math.log2(f / 670) / 1.2) ** 2)) + Math.sin(f / 3000)),
  zones: [ZONE],
});
const objective = createObjective(cellGrid(problem, 4), BANDS, {
  penalty: 200,
  restraint: 0,
  levelRestraint: 0,
  maxLevelLossDb: problem.limits.maxLevelLossDb,
});
const bounds = boundsOf(problem.limits);
const dictionary = atomDictionary([0], objective.grid, bounds);
const base = createAtoms(dictionary, objective.grid, wantedEq(objective), true, BANDS);
const OPTIONS = {
  maxMembers: BANDS,
  kicks: 10,
  keep: 5,
  minGainDb: -15,
  maxGainDb: 8,
  isAllowed: () => true,
};
const setsOf = (atoms: Atoms) =>
  exchangeSets(atoms, OPTIONS, seededRandom(1)).map((set) => bandsOf(atoms, set, bounds));

function riseInZone(bands: Bands): number {
  const hz = objective.grid.frequencyHz.filter((f) => f >= ZONE.fromHz && f <= ZONE.toHz);
  return bankResponseDb(filtersFromBands(bands), problem.sampleRateHz, hz).reduce((a, b) => Math.max(a, b));
}

test('sets found where a limit presses keep much nearer to it', () => {
  const [free] = setsOf(base);
  const held = refine(objective, free!, bounds, { maxIterations: 20, tolerance: 1e-4 }).bands;
  expect(riseInZone(free!)).toBeGreaterThan(1.5);
  expect(riseInZone(held)).toBeLessThan(1);
  const [pressed] = setsOf(pressedAtoms(base, objective, held));
  expect(riseInZone(pressed!)).toBeLessThan(0.6 * riseInZone(free!));
});

test('products, energies and pulls are those without, and what the points where it presses add', () => {
  const bands = bandsFromFilters([{ type: 'peaking', frequencyHz: 670, gainDb: 4, q: 1 }]);
  const atoms = pressedAtoms(base, objective, bands);
  const { points, shapes } = atoms.pressed!;
  expect(points).toBeGreaterThan(2);
  const shapeOf = (k: number) => shapes.subarray(k * points, (k + 1) * points);
  const product = (a: Float64Array, b: Float64Array) => a.reduce((sum, x, i) => sum + x * b[i]!, 0);
  for (const [i, k] of [
    [0, 7],
    [12, 30],
    [25, 25],
  ] as const) {
    const added = product(shapeOf(i), shapeOf(k));
    expect(productsOf(atoms, i)[k]).toBeCloseTo(productsOf(base, i)[k]! + added, 12);
    expect(atoms.energy[k]).toBeCloseTo(base.energy[k]! + product(shapeOf(k), shapeOf(k)), 12);
  }
  const [atom] = atoms.list;
  const at = objective.grid.frequencyHz.filter(
    (_, p) => objective.eqDb[p]! > objective.grid.capDb[p]! + 1e-4,
  );
  const response = bankResponseDb(
    [
      {
        type: 'peaking',
        frequencyHz: Math.exp(atom!.lnF),
        gainDb: atom!.gainDb,
        q: Math.exp(atom!.lnQ),
      },
    ],
    problem.sampleRateHz,
    at,
  );
  const scale = shapes[0]! / response[0]!;
  response.forEach((db, p) => {
    expect(shapes[p]).toBeCloseTo(scale * db, 9);
  });
});

test('where no limit presses they are the same atoms', () => {
  const bands = bandsFromFilters([{ type: 'peaking', frequencyHz: 3000, gainDb: -1, q: 2 }]);
  expect(pressedAtoms(base, objective, bands)).toBe(base);
});

test('of atoms that were added for a while nothing is left when fewer follow', () => {
  const { atoms } = someAtoms(3);
  const bands = bandsFromFilters(
    [100, 400, 900, 2000, 6000].map((frequencyHz) => ({ type: 'peaking', frequencyHz, gainDb: 3, q: 2 })),
  );
  addForAWhile(atoms, atomsOf(bands));
  expect(productsOf(atoms, 3)[atoms.list.length - 1]).not.toBe(0);
  addForAWhile(atoms, atomsOf(bands).slice(0, 1));
  for (const numbers of [atoms.energy, atoms.pull, productsOf(atoms, 3)]) {
    expect(numbers[atoms.list.length - 1]).not.toBe(0);
    expect(numbers.subarray(atoms.list.length)).toEqual(new Float64Array(4));
  }
});
