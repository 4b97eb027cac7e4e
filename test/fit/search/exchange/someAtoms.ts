import { HIGH_SHELF, LOW_SHELF, PEAKING } from '../../../../src/fit/bank/bands.js';
import { boundsOf } from '../../../../src/fit/bank/bounds.js';
import { cellGrid } from '../../../../src/fit/problem/fitGrid.js';
import { atomDictionary } from '../../../../src/fit/search/exchange/atomDictionary.js';
import { createAtoms } from '../../../../src/fit/search/exchange/atoms.js';
import { seededRandom } from '../../../../src/fit/seededRandom.js';
import { problemOf } from '../../problems.js';

/** The dictionary's atoms for a curve of five waves. */
export function someAtoms(seed: number) {
  const random = seededRandom(seed);
  const waves = Array.from({ length: 5 }, () => [1 + 2 * random(), 2 + 8 * random(), 6 * random()] as const);
  const problem = problemOf({
    deviationDb: (frequencyHz) =>
      frequencyHz.map((hz) =>
        waves.reduce((sum, [db, per, phase]) => sum + db * Math.sin(per * Math.log10(hz) + phase), 0),
      ),
  });
  const grid = cellGrid(problem, 4);
  const dictionary = atomDictionary([PEAKING, LOW_SHELF, HIGH_SHELF], grid, boundsOf(problem.limits));
  const wantedDb = grid.deviationDb.map((db) => -db);
  return { atoms: createAtoms(dictionary, grid, wantedDb, true, 5), dictionary, grid, wantedDb };
}
