import { bankResponseDb } from '../filter/bankResponseDb.js';
import type { Filter } from '../filter/filter.js';
import {
  type Bands,
  bandsFromFilters,
  filtersFromBands,
  NO_BANDS,
  typeCode,
  withoutBand,
} from '../fit/bands.js';
import { boundsOf, boundsReached } from '../fit/bounds.js';
import { createDictionary } from '../fit/dictionary.js';
import { FIRM_PENALTY, holds, LEVEL_RESTRAINT, tighten } from '../fit/exactLimits.js';
import { type LevelAt, measureExcess } from '../fit/excess.js';
import { sharedLimitsReached } from '../fit/fitFilters.js';
import { fitGrid } from '../fit/fitGrid.js';
import type { FitProblem, FitResult } from '../fit/fitProblem.js';
import { fitsSlots } from '../fit/fitsSlots.js';
import { createObjective, type Objective } from '../fit/objective.js';
import { refine } from '../fit/refine.js';
import type { Warning } from '../warning.js';
import { fixedSlots, freeSlots } from './bandSlots.js';
import { bandsOf, type DeviceBand, type DeviceBounds, filterOf, stepped } from './deviceBank.js';
import type { DeviceProfile } from './deviceProfile.js';
import { isContinuous, valuesAround } from './deviceValues.js';
import { searchFrequencies, snapOneByOne } from './frequencySearch.js';
import { fixOneByOne, type GridSearch, type Settled, searchNeighbours } from './settleOnGrid.js';
import { type StoredBank, storedBank } from './storedBank.js';

/** A bank that a device can hold, with what that cost. */
export interface DeviceFit extends FitResult {
  /** One for each filter, in the same order: what is entered into the device. */
  readonly settings: readonly DeviceBand[];
  /** Weighted RMS of what remained before rounding; `rmsDb` is that of what the device will really do. */
  readonly unroundedRmsDb: number;
  /** What stored coefficients add to the filters' response. */
  readonly deviationDb: LevelAt;
  readonly warnings: readonly Warning[];
}

const ROUNDS = 6;
/** Steps from the whole bank to none when gains are taken back, the first ones small. */
const SHRINKING_STEPS = 60;
const REFINED = { maxIterations: 60, tolerance: 1e-6 };

/**
 * Brings a fitted bank onto a device's grid. Frequencies are fixed first, one after the other, gain and Q refitted
 * after each, and moved about as long as that helps; then gains, then Qs, in the same way; then the neighbours of the
 * whole bank on the grid are searched. Every limit of the problem holds on what the device will really do, its stored
 * coefficients included: where one gives way it is drawn in and the search repeated.
 *
 * @param problem with its limits narrowed by `deviceLimits`
 * @param fitted `fitFilters` of that problem
 * @param maxBands bands that may be used in all
 */
export function roundToDevice(
  problem: FitProblem,
  fitted: FitResult,
  device: DeviceProfile,
  maxBands: number,
): DeviceFit {
  const bounds: DeviceBounds = { device, sampleRateHz: problem.sampleRateHz, limits: problem.limits };
  const untouched = measureExcess(problem, NO_BANDS);
  const { bands: start, freeCount } = withFixedBands(problem, fitted, device, maxBands);
  const unroundedRmsDb = realError(problem, filtersFromBands(start)).rmsDb;
  const lost: Warning[] = [];

  let drawnIn = problem;
  let bank = ontoGrid(problem, bounds, start, freeCount).bank;
  for (let round = 0; round < ROUNDS; round++) {
    const stored = storedOf(bounds, bank);
    if (stored.impossible.length > 0) {
      lost.push(...stored.impossible.flatMap((i) => stored.fits[i]!.warnings.map(leftOut)));
      bank = bank.filter((_, i) => !stored.impossible.includes(i));
      bank = again(drawnIn, bounds, bank).bank;
      round--;
      continue;
    }
    const bands = bandsOf(bounds, bank)!;
    const excess = measureExcess(problem, bands, stored.deviationDb);
    if (holds(excess, untouched, 0)) break;
    drawnIn = tighten(drawnIn, excess, untouched);
    bank = again(drawnIn, bounds, bank).bank;
  }
  const kept = shrunkIntoLimits(problem, bounds, bank);
  return finished(problem, fitted, bounds, kept, unroundedRmsDb, lost);
}

/** Puts the device's fixed bands beside the fitted ones and sets their gains; as many as may be used. */
function withFixedBands(problem: FitProblem, fitted: FitResult, device: DeviceProfile, maxBands: number) {
  const { minFrequencyHz, maxFrequencyHz } = problem.limits;
  const fixed = fixedSlots(device).filter(
    (s) => s.frequencyHz >= minFrequencyHz && s.frequencyHz <= maxFrequencyHz,
  );
  const freeCount = fitted.filters.length;
  if (fixed.length === 0) return { bands: bandsFromFilters(fitted.filters), freeCount };
  const bounds = boundsOf(problem.limits);
  const q = Math.sqrt(problem.limits.minQ * problem.limits.maxQ);
  const objective = objectiveOf(problem, 1, freeCount + fixed.length);
  const isFixed = (band: number) => band >= freeCount;
  const options = { ...REFINED, frozen: (j: number) => j % 3 === 0 && isFixed(j / 3) };
  let { bands } = refine(
    objective,
    bandsFromFilters([...fitted.filters, ...fixed.map((slot) => ({ ...slot, gainDb: 0, q }))]),
    bounds,
    options,
  );
  while (bands.types.length > maxBands) {
    const gains = Array.from(bands.types.keys(), (i) =>
      isFixed(i) ? Math.abs(bands.values[3 * i + 1]!) : Infinity,
    );
    const least = gains.indexOf(Math.min(...gains));
    bands = refine(objective, withoutBand(bands, least), bounds, options).bands;
  }
  return { bands, freeCount };
}

function ontoGrid(problem: FitProblem, bounds: DeviceBounds, start: Bands, freeCount: number): Settled {
  const { device } = bounds;
  const hasFixed = fixedSlots(device).length > 0;
  const isFixed = (band: number) => hasFixed && band >= freeCount;
  const capacity = Math.max(start.types.length, problem.limits.maxBands);
  const coarse = objectiveOf(problem, 2, capacity);
  const search: GridSearch = { device: bounds, objective: coarse, bounds: boundsOf(problem.limits), isFixed };
  const fine = { ...search, objective: objectiveOf(problem, 1, capacity) };
  const banks = isContinuous(device.frequencyHz)
    ? [start]
    : hasFixed
      ? [snapOneByOne(search, start, isFixed)]
      : searchFrequencies(frequencySearch(problem, search), start);
  const best = banks
    .map((bands) => searchNeighbours(fine, fixOneByOne(search, bands)))
    .reduce((a, b) => (b.value < a.value ? b : a));
  return shiftFrequencies(search, fine, best);
}

const SETTLED = { maxIterations: 12, tolerance: 1e-4, frozen: (j: number) => j % 3 === 0 };
const MAX_SHIFTS = 60;

/** Moves single bands by a step, frees and fixes gains and Qs anew, and keeps what is better on the grid itself. */
function shiftFrequencies(search: GridSearch, fine: GridSearch, start: Settled): Settled {
  let current = start;
  let tried = 0;
  for (let improved = true; improved && tried < MAX_SHIFTS; ) {
    improved = false;
    for (let i = 0; i < current.bank.length && !improved; i++) {
      if (search.isFixed(i)) continue;
      for (const steps of [1, -1]) {
        const band = stepped(search.device, current.bank[i]!, 'frequencyHz', steps);
        const shifted =
          band &&
          bandsOf(
            search.device,
            current.bank.map((other, k) => (k === i ? band : other)),
          );
        if (!shifted) continue;
        const free = refine(fine.objective, shifted, fine.bounds, SETTLED);
        // What is not better with gains and Qs free cannot be with them on the grid.
        if (free.value >= current.value) continue;
        tried++;
        const settled = searchNeighbours(fine, fixOneByOne(search, free.bands));
        if (settled.value >= current.value * 0.999) continue;
        current = settled;
        improved = true;
        break;
      }
    }
  }
  return current;
}

function frequencySearch(problem: FitProblem, search: GridSearch) {
  const { objective, bounds, device } = search;
  const types = problem.limits.types.map(typeCode);
  const slots = freeSlots(device.device).map((slot) => slot.map(typeCode));
  return {
    device,
    objective,
    bounds,
    dictionary: createDictionary(objective.grid, bounds, types, problem.levelDb === undefined),
    maxBands: problem.limits.maxBands,
    isAllowed: (bands: Bands) => fitsSlots(bands.types, slots),
  };
}

/** Searches from a bank on the grid under limits that have been drawn in. */
function again(problem: FitProblem, bounds: DeviceBounds, bank: readonly DeviceBand[]): Settled {
  const objective = objectiveOf(problem, 1, bank.length);
  const fixedHz = new Set(fixedSlots(bounds.device).map(({ frequencyHz }) => frequencyHz));
  const isFixed = (band: number) => fixedHz.has(bank[band]!.frequencyHz);
  const search: GridSearch = { device: bounds, objective, bounds: boundsOf(problem.limits), isFixed };
  const bands = bandsOf(bounds, bank)!;
  return [bank, fixOneByOne(search, bands)]
    .map((from) => searchNeighbours(search, from))
    .reduce((a, b) => (b.value < a.value ? b : a));
}

/** Takes gains back until every limit holds: the boosts, the cuts, or all, whichever needs least. No EQ always fits. */
function shrunkIntoLimits(
  problem: FitProblem,
  bounds: DeviceBounds,
  bank: readonly DeviceBand[],
): readonly DeviceBand[] {
  const untouched = measureExcess(problem, NO_BANDS);
  for (let step = 0; step < SHRINKING_STEPS; step++) {
    const share = 1 - (step / SHRINKING_STEPS) ** 2;
    for (const [boost, cut] of [
      [share, 1],
      [1, share],
      [share, share],
    ] as const) {
      const candidate = bank
        .map((band) => ({ ...band, gainDb: towardsZero(bounds, band.gainDb, band.gainDb > 0 ? boost : cut) }))
        .filter(({ gainDb }) => gainDb !== 0);
      const bands = bandsOf(bounds, candidate);
      if (!bands) continue;
      const stored = storedOf(bounds, candidate);
      if (stored.impossible.length > 0) continue;
      if (holds(measureExcess(problem, bands, stored.deviationDb), untouched, 0)) return candidate;
    }
  }
  return [];
}

function towardsZero({ device }: DeviceBounds, gainDb: number, share: number): number {
  if (share === 1) return gainDb;
  const near = valuesAround(device.gainDb, gainDb * share);
  return near.reduce((a, b) => (Math.abs(b) < Math.abs(a) ? b : a), gainDb);
}

function finished(
  problem: FitProblem,
  fitted: FitResult,
  bounds: DeviceBounds,
  bank: readonly DeviceBand[],
  unroundedRmsDb: number,
  lost: readonly Warning[],
): DeviceFit {
  const settings = [...bank].sort((a, b) => a.frequencyHz - b.frequencyHz || a.q - b.q);
  const filters = settings.map((band) => filterOf(bounds, band)!);
  const bands = bandsFromFilters(filters);
  const stored = storedBank(filters, bounds.device, bounds.sampleRateHz);
  const { levelDb, rmsDb } = realError(problem, filters, stored.deviationDb);
  return {
    filters,
    settings,
    levelDb,
    rmsDb,
    unroundedRmsDb,
    deviationDb: stored.deviationDb,
    warnings: [
      ...lost,
      ...stored.fits.flatMap((fit) => fit.warnings),
      ...dearRounding(bounds.device, unroundedRmsDb, rmsDb),
    ],
    stopReason: `${fitted.stopReason}; then rounded to the device`,
    iterations: fitted.iterations,
    limitsReached: [
      ...boundsReached(bands, boundsOf(problem.limits)),
      ...sharedLimitsReached(problem, bands),
    ],
  };
}

function storedOf(bounds: DeviceBounds, bank: readonly DeviceBand[]): StoredBank {
  const filters = bank.map((band) => filterOf(bounds, band)!);
  return storedBank(filters, bounds.device, bounds.sampleRateHz);
}

function leftOut(warning: Warning): Warning {
  return { ...warning, message: `${warning.message} It was left out, and the others were fitted anew.` };
}

/** A cost of rounding worth a word: this many dB, and this share of what remained before. */
const DEAR_DB = 0.2;
const DEAR_SHARE = 0.25;

function dearRounding({ name }: DeviceProfile, beforeDb: number, afterDb: number): Warning[] {
  const cost = afterDb - beforeDb;
  if (cost < DEAR_DB || cost < DEAR_SHARE * beforeDb) return [];
  return [
    {
      code: 'rounding-is-dear',
      message:
        `The steps of "${name}" cost ${cost.toFixed(2)} dB: ${afterDb.toFixed(2)} dB RMS remain instead of ` +
        `${beforeDb.toFixed(2)} dB. A device with finer frequencies or gains, or more bands, would come nearer.`,
    },
  ];
}

/** Level and weighted RMS of what remains, as the device will do it. */
function realError(problem: FitProblem, filters: readonly Filter[], deviationDb?: LevelAt) {
  const { frequencyHz, weight } = problem;
  const eqDb = bankResponseDb(filters, problem.sampleRateHz, frequencyHz);
  const added = deviationDb?.(frequencyHz);
  const total = weight.reduce((sum, w) => sum + w, 0) || 1;
  const reached = problem.deviationDb.map((db, i) => db + eqDb[i]! + (added?.[i] ?? 0));
  const mean = reached.reduce((sum, db, i) => sum + weight[i]! * db, 0) / total;
  const levelDb = problem.levelDb ?? mean;
  const squares = reached.reduce((sum, db, i) => sum + weight[i]! * (db - levelDb) ** 2, 0);
  return { levelDb, rmsDb: Math.sqrt(squares / total) };
}

function objectiveOf(problem: FitProblem, stride: number, maxBands: number): Objective {
  return createObjective(fitGrid(problem, stride), maxBands, {
    penalty: FIRM_PENALTY,
    restraint: 0,
    levelRestraint: LEVEL_RESTRAINT,
    maxLevelLossDb: problem.limits.maxLevelLossDb,
    ...(problem.levelDb === undefined ? {} : { levelDb: problem.levelDb }),
  });
}
