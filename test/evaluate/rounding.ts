/**
 * What rounding to a device costs, optimised and plain, over simulated speakers in rooms as `nullwise fit` sees them:
 * gains in steps of 0.5 dB, third-octave frequencies, Q in steps of 0.1, 5 to 10 bands.
 * Plain rounding keeps no limits, so it is also brought within them by the least that does it (gains and Qs a step or two
 * away, else gains taken back), and "nearer" is given beside both.
 * Run: npx tsx test/evaluate/rounding.ts [cases] [first seed]
 */

import { roundToDevice } from '../../src/device/roundToDevice.js';
import { realError } from '../../src/device/stored/realError.js';
import type { Filter } from '../../src/filter/filter.js';
import { bandsFromFilters } from '../../src/fit/bank/bands.js';
import { fitFilters, NORMAL_EFFORT } from '../../src/fit/fitFilters.js';
import { measureExcess } from '../../src/fit/objective/excess.js';
import { opposition } from '../../src/fit/objective/opposition.js';
import { fitGrid } from '../../src/fit/problem/fitGrid.js';
import type { FitProblem } from '../../src/fit/problem/fitProblem.js';
import { seededRandom } from '../../src/fit/seededRandom.js';
import { heldPlainly, roundPlainly } from '../device/plainRounding.js';
import { bandsOfSeed, roundingProblem, steppedDevice } from './roundingCases.js';

const count = Number(process.argv[2] ?? 24);
const firstSeed = Number(process.argv[3] ?? 820000);

const mostBroken = (problem: FitProblem, filters: readonly Filter[]) =>
  Math.max(0, ...Object.values(measureExcess(problem, bandsFromFilters(filters))));

const median = (values: readonly number[]) =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;
const figure = (value: number, digits = 3) => value.toFixed(digits).padStart(9);

console.log(
  '                        RMS in dB        above unrounded, %     breaks limits, dB   nearer than plain, %\n' +
    '   seed bands unrounded   opt.   |  plain  within   opt.  |    plain      opt.  |  plain  within  |   s',
);
const excesses: number[] = [];
const nearers: number[] = [];
const nearersWithin: number[] = [];
const seconds: number[] = [];
/** What bands do against each other (see opposition.ts), before and after rounding, dB. */
const opposed: [number, number][] = [];
for (let seed = firstSeed; seed < firstSeed + count; seed++) {
  const bands = bandsOfSeed(seed);
  const device = steppedDevice(bands);
  const problem = roundingProblem(seed, device, bands);
  const fit = fitFilters(problem, { random: seededRandom(1), effort: NORMAL_EFFORT });
  if (fit.filters.length === 0) continue;
  const started = process.cpuUsage();
  const rounded = roundToDevice(problem, fit, device, bands);
  const used = process.cpuUsage(started);
  seconds.push((used.user + used.system) / 1e6);
  const opposedIn = (filters: readonly Filter[]) =>
    opposition(fitGrid(problem, 1), bandsFromFilters(filters)).db;
  opposed.push([opposedIn(fit.filters), opposedIn(rounded.filters)]);
  const exact = realError(problem, fit.filters).rmsDb;
  const plainly = roundPlainly(fit.filters, device, problem.sampleRateHz);
  const errorOf = (filters: readonly Filter[]) => realError(problem, filters).rmsDb;
  const [plain, within, optimised] = [
    errorOf(plainly),
    errorOf(heldPlainly(problem, device, plainly)),
    errorOf(rounded.filters),
  ];
  const above = (rmsDb: number) => 100 * (rmsDb / exact - 1);
  const nearerThan = (rmsDb: number) => 100 * (1 - (optimised - exact) / (rmsDb - exact));
  excesses.push(above(optimised));
  nearers.push(nearerThan(plain));
  nearersWithin.push(nearerThan(within));
  console.log(
    `${String(seed).padStart(7)} ${String(rounded.filters.length).padStart(2)}/${String(bands).padEnd(2)}` +
      [exact, optimised].map((rmsDb) => figure(rmsDb)).join('') +
      [plain, within, optimised].map((rmsDb) => figure(above(rmsDb), 1)).join('') +
      [plainly, rounded.filters].map((filters) => figure(mostBroken(problem, filters), 4)).join('') +
      [nearers.at(-1)!, nearersWithin.at(-1)!].map((share) => figure(share, 1)).join('') +
      figure(seconds.at(-1)!, 2),
  );
}
console.log(
  `median: exceeds the unrounded by ${median(excesses).toFixed(1)} %, ${median(nearers).toFixed(1)} % nearer to it than plain ` +
    `(least ${Math.min(...nearers).toFixed(1)} %), ${median(nearersWithin).toFixed(1)} % nearer than plain within the limits ` +
    `(least ${Math.min(...nearersWithin).toFixed(1)} %); ${median(seconds).toFixed(2)} s of processor time`,
);
const meanOf = (place: 0 | 1) => opposed.reduce((sum, pair) => sum + pair[place], 0) / opposed.length;
console.log(
  `mean of what bands do against each other: ${meanOf(0).toFixed(2)} dB unrounded, ${meanOf(1).toFixed(2)} dB rounded`,
);
