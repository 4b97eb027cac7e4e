// How near the default fit comes to the best that a long search finds:
//   tsx test/evaluate/optimum.ts                compare with optimumReferences.json
//   tsx test/evaluate/optimum.ts --search 3     search long with three more seeds; better values replace the stored ones
import { readFileSync, writeFileSync } from 'node:fs';
import { EFFORTS } from '../../src/fit/effort.js';
import { fitFilters } from '../../src/fit/fitFilters.js';
import { seededRandom } from '../../src/fit/seededRandom.js';
import type { OptimumCase } from './optimumCases.js';
import { optimumCases } from './optimumCases.js';

const FILE = new URL('./optimumReferences.json', import.meta.url);
/** Remaining errors below this are as good as none and as good as each other. */
const FLOOR_DB = 0.03;
const LONG = { ...EFFORTS.thorough, hopsPerBand: 600 };

interface References {
  readonly madeBy: string;
  readonly rmsDb: Readonly<Record<string, number>>;
}

const references = JSON.parse(readFileSync(FILE, 'utf8')) as References;
const seeds = process.argv[2] === '--search' ? Number(process.argv[3] ?? 1) : 0;
if (seeds > 0) search(optimumCases(), seeds);
else compare(optimumCases());

function search(cases: readonly OptimumCase[], count: number): void {
  const rmsDb = { ...references.rmsDb };
  for (const { id, problem } of cases) {
    for (let seed = 1; seed <= count; seed++) {
      const found = fitFilters(problem, { random: seededRandom(1000 * seed + 7), effort: LONG }).rmsDb;
      rmsDb[id] = Math.min(rmsDb[id] ?? Number.POSITIVE_INFINITY, Number(found.toFixed(5)));
    }
    console.log(id, rmsDb[id]);
    const madeBy = 'tsx test/evaluate/optimum.ts --search <seeds>, the best of all that were run';
    writeFileSync(FILE, `${JSON.stringify({ madeBy, rmsDb }, null, 2)}\n`);
  }
}

function compare(cases: readonly OptimumCase[]): void {
  const outcomes = cases.map(({ id, bands, problem }) => {
    const best = references.rmsDb[id];
    if (best === undefined) throw new Error(`no reference for ${id}: run --search first`);
    const start = performance.now();
    const { rmsDb } = fitFilters(problem, { random: seededRandom(1), effort: EFFORTS.normal });
    const ms = performance.now() - start;
    return { id, bands, rmsDb, best, ms, ratio: Math.max(rmsDb, FLOOR_DB) / Math.max(best, FLOOR_DB) };
  });
  console.log('Remaining RMS of the default fit over that of a long search.');
  console.log('Goal: median at most 1.01, worst at most 1.05.');
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
