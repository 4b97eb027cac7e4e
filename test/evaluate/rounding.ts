/**
 * What rounding to a device costs, optimised and plain, over simulated speakers in rooms as `nullwise fit` sees them:
 * gains in steps of 0.5 dB, third-octave frequencies, Q in steps of 0.1, 5 to 10 bands.
 * Run: npx tsx test/evaluate/rounding.ts [cases] [first seed]
 */
import type { DeviceProfile } from '../../src/device/deviceProfile.js';
import { valuesAround } from '../../src/device/deviceValues.js';
import { realError } from '../../src/device/realError.js';
import { roundToDevice } from '../../src/device/roundToDevice.js';
import type { Filter } from '../../src/filter/filter.js';
import { bandsFromFilters } from '../../src/fit/bands.js';
import { measureExcess } from '../../src/fit/excess.js';
import { fitFilters, NORMAL_EFFORT } from '../../src/fit/fitFilters.js';
import { seededRandom } from '../../src/fit/seededRandom.js';
import { bandsOfSeed, roundingProblem, steppedDevice } from './roundingCases.js';

const count = Number(process.argv[2] ?? 24);
const firstSeed = Number(process.argv[3] ?? 820000);

/** Every number to its nearest value, as one would by hand. */
function roundPlainly(filters: readonly Filter[], device: DeviceProfile): Filter[] {
  const nearest = (range: DeviceProfile['q'], distance: (a: number) => number, x: number) =>
    valuesAround(range, x).reduce((a, b) => (distance(b) < distance(a) ? b : a));
  return filters.map(({ type, frequencyHz, gainDb, q }) => ({
    type,
    frequencyHz: nearest(device.frequencyHz, (f) => Math.abs(Math.log(f / frequencyHz)), frequencyHz),
    gainDb: nearest(device.gainDb, (g) => Math.abs(g - gainDb), gainDb),
    q: nearest(device.q, (v) => Math.abs(v - q), q),
  }));
}

const median = (values: readonly number[]) =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;
const figure = (value: number, digits = 3) => value.toFixed(digits).padStart(9);

console.log('   seed bands  unrounded     plain optimised  plain +%   opt. +%  nearer %  breaks (dB)      s');
const excesses: number[] = [];
const nearers: number[] = [];
const seconds: number[] = [];
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
  const exact = realError(problem, fit.filters).rmsDb;
  const plain = realError(problem, roundPlainly(fit.filters, device)).rmsDb;
  const optimised = realError(problem, rounded.filters).rmsDb;
  const broken = Object.values(measureExcess(problem, bandsFromFilters(rounded.filters)));
  excesses.push(100 * (optimised / exact - 1));
  nearers.push(100 * (1 - (optimised - exact) / (plain - exact)));
  console.log(
    `${String(seed).padStart(7)} ${String(rounded.filters.length).padStart(2)}/${String(bands).padEnd(2)}` +
      figure(exact) +
      figure(plain) +
      figure(optimised) +
      figure(100 * (plain / exact - 1), 1) +
      figure(excesses.at(-1)!, 1) +
      figure(nearers.at(-1)!, 1) +
      figure(Math.max(0, ...broken), 6) +
      figure(seconds.at(-1)!, 2),
  );
}
console.log(
  `median: exceeds the unrounded by ${median(excesses).toFixed(1)} %, ${median(nearers).toFixed(1)} % nearer to it than plain; ` +
    `least nearer ${Math.min(...nearers).toFixed(1)} %; ${median(seconds).toFixed(2)} s of processor time`,
);
