import { bankResponseDb } from '../filter/bankResponseDb.js';
import type { Filter } from '../filter/filter.js';
import { type Bands, bandsFromFilters, filtersFromBands, NO_BANDS, withoutBand } from '../fit/bands.js';
import { boundsOf, boundsReached } from '../fit/bounds.js';
import { FIRM_PENALTY, holds, LEVEL_RESTRAINT, tighten } from '../fit/exactLimits.js';
import { type LevelAt, measureExcess } from '../fit/excess.js';
import { sharedLimitsReached } from '../fit/fitFilters.js';
import { fitGrid } from '../fit/fitGrid.js';
import type { FitProblem, FitResult } from '../fit/fitProblem.js';
import { createObjective, type Objective, objectiveValue } from '../fit/objective.js';
import { refine } from '../fit/refine.js';
import type { Warning } from '../warning.js';
import { fixedSlots } from './bandSlots.js';
import { bandsOf, type DeviceBand, type DeviceBounds, filterOf, frequenciesAround } from './deviceBank.js';
import type { DeviceProfile } from './deviceProfile.js';
import { isContinuous, valuesAround } from './deviceValues.js';
import { searchGrid } from './searchGrid.js';
import { fixOneByOne } from './settleOnGrid.js';
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
 * Brings a fitted bank onto a device's grid. Frequencies go to their nearest values, then gains and Qs are fixed one
 * after the other, what is still free refitted after each; from there the grid itself is searched (see
 * searchGrid.ts). Every limit of the problem holds on what the device will really do, its stored
 * coefficients included: where one gives way it is drawn in and the search repeated.
 *
 * @param problem with its limits narrowed by `deviceLimits`
 * @param fitted `fitFilters` of that problem
 * @param maxBands bands that may be used in all
 * @param hops of the search on the grid for banks of up to ten bands; fewer for larger ones, whose hops cost more
 */
export function roundToDevice(
  problem: FitProblem,
  fitted: FitResult,
  device: DeviceProfile,
  maxBands: number,
  hops = HOPS,
): DeviceFit {
  const bounds: DeviceBounds = { device, sampleRateHz: problem.sampleRateHz, limits: problem.limits };
  const untouched = measureExcess(problem, NO_BANDS);
  const start = withFixedBands(problem, fitted, device, maxBands);
  const most = fixedSlots(device).length > 0 ? maxBands : Math.min(maxBands, problem.limits.maxBands);
  const unroundedRmsDb = realError(problem, filtersFromBands(start)).rmsDb;
  const lost: Warning[] = [];

  let drawnIn = problem;
  let bank = ontoGrid(problem, bounds, start, most, hops);
  for (let round = 0; round < ROUNDS; round++) {
    const stored = storedOf(bounds, bank);
    if (stored.impossible.length > 0) {
      lost.push(...stored.impossible.flatMap((i) => stored.fits[i]!.warnings.map(leftOut)));
      bank = bank.filter((_, i) => !stored.impossible.includes(i));
      bank = again(drawnIn, bounds, bank, bank.length);
      round--;
      continue;
    }
    const bands = bandsOf(bounds, bank)!;
    const excess = measureExcess(problem, bands, stored.deviationDb);
    if (holds(excess, untouched, 0)) break;
    drawnIn = tighten(drawnIn, excess, untouched);
    bank = again(drawnIn, bounds, bank, most);
  }
  const kept = shrunkIntoLimits(problem, bounds, bank);
  return finished(problem, fitted, bounds, kept, unroundedRmsDb, lost);
}

/** Puts the device's fixed bands beside the fitted ones and sets their gains; as many as may be used. */
function withFixedBands(
  problem: FitProblem,
  fitted: FitResult,
  device: DeviceProfile,
  maxBands: number,
): Bands {
  const { minFrequencyHz, maxFrequencyHz } = problem.limits;
  const fixed = fixedSlots(device).filter(
    (s) => s.frequencyHz >= minFrequencyHz && s.frequencyHz <= maxFrequencyHz,
  );
  const freeCount = fitted.filters.length;
  if (fixed.length === 0) return bandsFromFilters(fitted.filters);
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
  return bands;
}

const HOPS = 60;
const FULL_HOPS_BANDS = 10;

function ontoGrid(
  problem: FitProblem,
  bounds: DeviceBounds,
  start: Bands,
  maxBands: number,
  fullHops: number,
): readonly DeviceBand[] {
  if (start.types.length === 0) return [];
  const near = settled(problem, bounds, start);
  if (isWithoutSteps(bounds.device)) return near;
  const hops = Math.round(fullHops * Math.min(1, FULL_HOPS_BANDS / maxBands));
  const nearest = searchGrid(problem, bounds, near, maxBands, 0);
  const unrounded = realError(problem, filtersFromBands(start)).rmsDb;
  const rounded = realError(problem, filtersFromBands(bandsOf(bounds, nearest)!)).rmsDb;
  const isGood = rounded <= Math.max(unrounded * GOOD_SHARE, unrounded + GOOD_DB);
  const found = isGood ? nearest : searchGrid(problem, bounds, nearest, maxBands, hops);
  return refinedBetween(problem, bounds, found);
}

/** Rounding that costs no more than this share, or this many dB, is not worth a search. */
const GOOD_SHARE = 1.01;
const GOOD_DB = 0.01;

/** What a device takes as it comes, such as gains without steps, is refined once more beside what has steps. */
function refinedBetween(
  problem: FitProblem,
  bounds: DeviceBounds,
  bank: readonly DeviceBand[],
): readonly DeviceBand[] {
  const { frequencyHz, gainDb, q } = bounds.device;
  const fixedOnly = bounds.device.bands.every(({ atHz }) => atHz !== undefined);
  const isStepped = !isContinuous(gainDb) && !isContinuous(q) && (fixedOnly || !isContinuous(frequencyHz));
  if (isStepped || bank.length === 0) return bank;
  const objective = objectiveOf(problem, 1, bank.length);
  const value = (of: readonly DeviceBand[]) => objectiveValue(objective, bandsOf(bounds, of)!);
  const refined = settled(problem, bounds, bandsOf(bounds, bank)!).filter(({ gainDb }) => gainDb !== 0);
  return value(refined) < value(bank) ? refined : bank;
}

/** Searches from a bank on the grid under limits that have been drawn in. */
function again(
  problem: FitProblem,
  bounds: DeviceBounds,
  bank: readonly DeviceBand[],
  maxBands: number,
): readonly DeviceBand[] {
  const hasGrid = !isWithoutSteps(bounds.device);
  return hasGrid
    ? searchGrid(problem, bounds, bank, maxBands, 0)
    : settled(problem, bounds, bandsOf(bounds, bank)!);
}

const isWithoutSteps = ({ frequencyHz, gainDb, q }: DeviceProfile) =>
  [frequencyHz, gainDb, q].every(isContinuous);

/** Frequencies at their nearest values, the other numbers fixed one after the other. */
function settled(problem: FitProblem, device: DeviceBounds, start: Bands): DeviceBand[] {
  const fixedHz = fixedSlots(device.device).map(({ frequencyHz }) => frequencyHz);
  const filters = filtersFromBands(start);
  const isFixed = (band: number) =>
    fixedHz.some((hz) => Math.abs(hz - filters[band]!.frequencyHz) < 1e-6 * hz);
  const objective = objectiveOf(problem, 1, start.types.length);
  const values = start.values.map((lnF, j) => {
    if (j % 3 !== 0 || isFixed(j / 3)) return lnF;
    const near = frequenciesAround(device, Math.exp(lnF)).map((hz) => Math.log(hz));
    return near.reduce((a, b) => (Math.abs(b - lnF) < Math.abs(a - lnF) ? b : a));
  });
  const bands = { types: start.types, values };
  return fixOneByOne({ device, objective, bounds: boundsOf(problem.limits), isFixed }, bands);
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
