/**
 * Bands that work against each other: in how many banks a pair of opposite signs cancels decibels of itself, and how many.
 * A pair is opposed where it is alike: the area over log frequency that it cancels is at least 0.4 of the geometric mean of
 * the two bands' own. Simulated and measured rooms and the demo, as `nullwise fit` sees them, with 5, 8 and 10 bands.
 * Run: npx tsx test/evaluate/opposedBands.ts [cases a family] [first seed]
 */

import { bandsFromFilters } from '../../src/fit/bank/bands.js';
import { EFFORTS } from '../../src/fit/effort.js';
import { opposition } from '../../src/fit/objective/opposition.js';
import { fitGrid } from '../../src/fit/problem/fitGrid.js';
import { diagnoseMeasurements } from '../../src/pipeline/diagnoseMeasurements.js';
import { solveRequest } from '../../src/pipeline/solveRequest.js';
import { opposedFamilies } from './opposedCases.js';

const count = Number(process.argv[2] ?? 8);
const firstSeed = Number(process.argv[3] ?? 100000);

const ALIKE = 0.4;

interface Row {
  readonly rmsDb: number;
  readonly bands: number;
  /** Over the opposed pairs of a bank: sum and greatest of what they cancel, and the greatest of two peaks. */
  readonly sumDb: number;
  readonly mostDb: number;
  readonly peaksDb: number;
  readonly seconds: number;
}

const mean = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / Math.max(1, values.length);
const line = (name: string, rows: readonly Row[]) => {
  const above = (db: number) => rows.filter(({ mostDb }) => mostDb > db).length;
  console.log(
    `${name.padEnd(24)}${String(rows.length).padStart(5)}${mean(rows.map(({ sumDb }) => sumDb))
      .toFixed(2)
      .padStart(9)}${mean(rows.map(({ mostDb }) => mostDb))
      .toFixed(2)
      .padStart(9)}${String(above(2)).padStart(6)}${String(above(4)).padStart(6)}${String(
      rows.filter(({ peaksDb }) => peaksDb > 2).length,
    ).padStart(8)}${Math.exp(mean(rows.map(({ rmsDb }) => Math.log(rmsDb))))
      .toFixed(4)
      .padStart(9)}${mean(rows.map(({ bands }) => bands))
      .toFixed(2)
      .padStart(8)}${mean(rows.map(({ seconds }) => seconds))
      .toFixed(3)
      .padStart(9)}`,
  );
};

console.log(
  'what opposed pairs cancel, dB: mean of sums and of the greatest; banks where that is above 2 and 4 dB, above 2 dB of\n' +
    'two peaks; geometric mean of the RMS left, dB; bands used; processor time of a solution, s\n' +
    'family             bands  cases    sum  greatest   > 2   > 4   peaks      RMS    used     time',
);
const all: Row[] = [];
for (const { name, requests } of opposedFamilies(count, firstSeed)) {
  const diagnosed = requests.map((request) => diagnoseMeasurements(request, request.sampleRateHz));
  for (const bands of [5, 8, 10]) {
    const rows = requests.flatMap((request, i): Row[] => {
      const started = process.cpuUsage();
      const { problem, asked } = solveRequest({ ...request, bands }, diagnosed[i]!, EFFORTS.normal);
      const used = process.cpuUsage(started);
      const { filters, rmsDb } = asked.fit;
      if (filters.length === 0) return [];
      const pairs = opposition(fitGrid(problem, 1), bandsFromFilters(filters)).pairs.filter(
        ({ likeness }) => likeness > ALIKE,
      );
      const ofPeaks = pairs.filter((pair) => pair.bands.every((b) => filters[b]!.type === 'peaking'));
      const most = (list: typeof pairs) => Math.max(0, ...list.map(({ cancelledDb }) => cancelledDb));
      return [
        {
          rmsDb,
          bands: filters.length,
          sumDb: pairs.reduce((sum, { cancelledDb }) => sum + cancelledDb, 0),
          mostDb: most(pairs),
          peaksDb: most(ofPeaks),
          seconds: (used.user + used.system) / 1e6,
        },
      ];
    });
    line(`${name.padEnd(20)}${String(bands).padStart(3)}`, rows);
    all.push(...rows);
  }
}
line('all', all);
