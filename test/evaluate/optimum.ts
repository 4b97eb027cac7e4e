// How near the default fit comes to the best that long searches find:
//   tsx test/evaluate/optimum.ts                   compare with optimumReferences.json
//   tsx test/evaluate/optimum.ts --search 6 [9]    search every case until six long searches are counted for it, some
//                                                  57 grown banks each, for at most nine minutes; goes on where it stopped
import { readFileSync, writeFileSync } from 'node:fs';
import { EFFORTS } from '../../src/fit/effort.js';
import { fitFilters } from '../../src/fit/fitFilters.js';
import { seededRandom } from '../../src/fit/seededRandom.js';
import type { OptimumCase } from './optimumCases.js';
import { GENTLE_SHELF_Q, gentleCases, optimumCases } from './optimumCases.js';

const FILE = new URL('./optimumReferences.json', import.meta.url);
/** Remaining errors below this are as good as none and as good as each other. */
const FLOOR_DB = 0.03;
/** Moves for some 57 banks grown from different beginnings, each spliced with the best of those before. */
const LONG = EFFORTS.thorough;

interface References {
  readonly madeBy: string;
  readonly rmsDb: Readonly<Record<string, number>>;
  /** Long searches behind each value. */
  readonly searches: Readonly<Record<string, number>>;
}

const references = JSON.parse(readFileSync(FILE, 'utf8')) as References;
if (process.argv[2] === '--search') {
  const cases = [...optimumCases(), ...gentleCases()];
  search(cases, Number(process.argv[3] ?? 6), Number(process.argv[4] ?? Number.POSITIVE_INFINITY));
} else {
  console.log('Remaining RMS of the default fit over that of a long search.');
  console.log('Goal: median at most 1.01, worst at most 1.05.');
  compare('Shelves as sharp as peaks may be, as they are by default', optimumCases());
  compare(`Shelves up to Q ${GENTLE_SHELF_Q}`, gentleCases());
}

/** One more long search for each case in turn, each from a seed of its own; the better values stay. */
function search(cases: readonly OptimumCase[], count: number, minutes: number): void {
  const end = performance.now() + 60_000 * minutes;
  const rmsDb = { ...references.rmsDb };
  const searches = { ...references.searches };
  for (let seed = 1; seed <= count; seed++) {
    for (const { id, problem } of cases) {
      if ((searches[id] ?? 0) >= seed) continue;
      if (performance.now() > end) return;
      const found = fitFilters(problem, { random: seededRandom(1000 * seed + 7), effort: LONG }).rmsDb;
      rmsDb[id] = Math.min(rmsDb[id] ?? Number.POSITIVE_INFINITY, Number(found.toFixed(5)));
      searches[id] = seed;
      console.log(seed, id, found.toFixed(5), rmsDb[id]);
      writeFileSync(FILE, `${JSON.stringify({ ...references, rmsDb, searches }, null, 2)}\n`);
    }
  }
}

function compare(which: string, cases: readonly OptimumCase[]): void {
  const outcomes = cases.map(({ id, bands, problem }) => {
    const best = references.rmsDb[id];
    if (best === undefined) throw new Error(`no reference for ${id}: run --search first`);
    const start = performance.now();
    const { rmsDb } = fitFilters(problem, { random: seededRandom(1), effort: EFFORTS.normal });
    const ms = performance.now() - start;
    return { id, bands, rmsDb, best, ms, ratio: Math.max(rmsDb, FLOOR_DB) / Math.max(best, FLOOR_DB) };
  });
  console.log(`\n${which}`);
  console.log('bands  cases   median    worst  above 1.01  above 1.05  ms/fit');
  const line = (name: string, group: typeof outcomes) => {
    const ratios = group.map(({ ratio }) => ratio).sort((a, b) => a - b);
    const times = group.map(({ ms }) => ms).sort((a, b) => a - b);
    const middle = Math.floor(group.length / 2);
    const above = (limit: number) => String(ratios.filter((ratio) => ratio > limit).length);
    console.log(
      `${name.padStart(5)}${String(group.length).padStart(7)}${ratios[middle]!.toFixed(4).padStart(9)}` +
        `${ratios.at(-1)!.toFixed(4).padStart(9)}${above(1.01).padStart(12)}${above(1.05).padStart(12)}` +
        `${times[middle]!.toFixed(0).padStart(8)}`,
    );
  };
  for (const bands of new Set(cases.map((one) => one.bands))) {
    line(
      String(bands),
      outcomes.filter((one) => one.bands === bands),
    );
  }
  line('all', outcomes);
  const far = outcomes.filter(({ ratio }) => ratio > 1.05);
  for (const { id, rmsDb, best } of far)
    console.log(`${id}: ${rmsDb.toFixed(4)} dB, best ${best.toFixed(4)} dB`);
}
