/**
 * What rounding to a device costs, optimised and plain, over simulated rooms and speakers: gains in steps of 0.5 dB,
 * third-octave frequencies, Q in steps of 0.1. Run: npx tsx test/evaluate/rounding.ts [cases] [first seed]
 */
import { sliceCurve } from '../../src/curve/sliceCurve.js';
import { smoothOctave } from '../../src/curve/smoothOctave.js';
import { deviceLimits } from '../../src/device/deviceLimits.js';
import type { DeviceProfile } from '../../src/device/deviceProfile.js';
import { valuesAround } from '../../src/device/deviceValues.js';
import { roundToDevice } from '../../src/device/roundToDevice.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { Filter } from '../../src/filter/filter.js';
import { bandsFromFilters } from '../../src/fit/bands.js';
import { buildProblem } from '../../src/fit/buildProblem.js';
import { measureExcess } from '../../src/fit/excess.js';
import { fitFilters, NORMAL_EFFORT } from '../../src/fit/fitFilters.js';
import type { FitLimits, FitProblem } from '../../src/fit/fitProblem.js';
import { seededRandom } from '../../src/fit/seededRandom.js';
import { simulatedRoom } from './simulatedRooms.js';

const count = Number(process.argv[2] ?? 16);
const firstSeed = Number(process.argv[3] ?? 1);
const sampleRateHz = 48000;

const device: DeviceProfile = {
  name: 'third-octaves, 0.5 dB, Q 0.1',
  sampleRatesHz: [sampleRateHz],
  bands: [{ types: ['peaking', 'lowShelf', 'highShelf'], count: 10 }],
  gainDb: { min: -12, max: 6, step: 0.5 },
  frequencyHz: { min: 20, max: 20000, perOctave: 3 },
  q: { min: 0.4, max: 10, step: 0.1 },
  qConvention: 'cookbook',
};

function problemOf(seed: number): FitProblem {
  const placement = seed % 2 === 0 ? { placement: 'anechoic' as const } : { surroundings: 'few' as const };
  const { input } = simulatedRoom(seed + 700000, placement);
  const range = { fromHz: Math.max(input.range.fromHz * 1.4, 40), toHz: 16000 };
  const { frequencyHz, levelDb } = sliceCurve(smoothOctave(input.curve, 1 / 12), range);
  const limits: FitLimits = {
    maxBands: [5, 8, 10][seed % 3]!,
    types: ['peaking', 'lowShelf', 'highShelf'],
    maxBoostDb: 6,
    maxCutDb: 12,
    minQ: 0.4,
    maxQ: 10,
    maxShelfQ: 10,
    minFrequencyHz: range.fromHz,
    maxFrequencyHz: 20000,
    maxLevelLossDb: 3,
  };
  return buildProblem({
    sampleRateHz,
    frequencyHz,
    deviationDb: levelDb,
    zones: [],
    boostFromHz: range.fromHz,
    limits: deviceLimits(limits, device, sampleRateHz),
  });
}

/** Every number to its nearest value, as one would by hand. */
function roundPlainly(filters: readonly Filter[]): Filter[] {
  const nearest = (range: DeviceProfile['q'], x: number, distance: (a: number) => number) =>
    valuesAround(range, x).reduce((a, b) => (distance(b) < distance(a) ? b : a));
  return filters.map(({ type, frequencyHz, gainDb, q }) => ({
    type,
    frequencyHz: nearest(device.frequencyHz, frequencyHz, (f) => Math.abs(Math.log(f / frequencyHz))),
    gainDb: nearest(device.gainDb, gainDb, (g) => Math.abs(g - gainDb)),
    q: nearest(device.q, q, (v) => Math.abs(v - q)),
  }));
}

function rmsDb(problem: FitProblem, filters: readonly Filter[]): number {
  const eq = bankResponseDb(filters, sampleRateHz, problem.frequencyHz);
  const total = problem.weight.reduce((a, b) => a + b, 0);
  const reached = problem.deviationDb.map((db, i) => db + eq[i]!);
  const level = reached.reduce((sum, db, i) => sum + (problem.weight[i]! * db) / total, 0);
  return Math.sqrt(reached.reduce((sum, db, i) => sum + (problem.weight[i]! * (db - level) ** 2) / total, 0));
}

const median = (values: readonly number[]) =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;
const figure = (value: number, digits = 3) => value.toFixed(digits).padStart(9);

console.log(' seed bands  unrounded     plain optimised  plain +%   opt. +%  nearer %  breaks (dB)      s');
const excesses: number[] = [];
const nearers: number[] = [];
for (let seed = firstSeed; seed < firstSeed + count; seed++) {
  const problem = problemOf(seed);
  const fit = fitFilters(problem, { random: seededRandom(1), effort: NORMAL_EFFORT });
  const started = performance.now();
  const rounded = roundToDevice(problem, fit, device, 10);
  const seconds = (performance.now() - started) / 1000;
  const exact = rmsDb(problem, fit.filters);
  const plain = rmsDb(problem, roundPlainly(fit.filters));
  const optimised = rmsDb(problem, rounded.filters);
  const { capDb, levelLossDb } = measureExcess(problem, bandsFromFilters(rounded.filters));
  const excess = 100 * (optimised / exact - 1);
  const nearer = 100 * (1 - (optimised - exact) / (plain - exact));
  excesses.push(excess);
  nearers.push(nearer);
  console.log(
    `${String(seed).padStart(5)} ${String(rounded.filters.length).padStart(2)}/${String(fit.filters.length).padEnd(2)}` +
      figure(exact) +
      figure(plain) +
      figure(optimised) +
      figure(100 * (plain / exact - 1), 1) +
      figure(excess, 1) +
      figure(nearer, 1) +
      figure(Math.max(0, capDb, levelLossDb), 6) +
      figure(seconds, 2),
  );
}
console.log(
  `median: exceeds the unrounded by ${median(excesses).toFixed(1)} %, ${median(nearers).toFixed(1)} % nearer to it than plain; ` +
    `least nearer ${Math.min(...nearers).toFixed(1)} %`,
);
