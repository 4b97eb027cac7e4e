import { exp } from '../elementary/exponential.js';
import { log } from '../elementary/logarithm.js';
import type { Filter } from '../filter/filter.js';
import { type Bands, bandsFromFilters, filtersFromBands, withoutBand } from '../fit/bands.js';
import { boundsOf, boundsReached } from '../fit/bounds.js';
import { FIRM_PENALTY, LEVEL_RESTRAINT } from '../fit/exactLimits.js';
import type { LevelAt } from '../fit/excess.js';
import { sharedLimitsReached } from '../fit/fitFilters.js';
import { fitGrid } from '../fit/fitGrid.js';
import type { FitProblem, FitResult } from '../fit/fitProblem.js';
import { type Objective, objectiveValue } from '../fit/objective.js';
import { objectiveFor } from '../fit/objectiveFor.js';
import { refine } from '../fit/refine.js';
import type { Warning } from '../warning.js';
import { fixedSlots } from './bandSlots.js';
import { dearRounding } from './dearRounding.js';
import { bandsOf, type DeviceBand, type DeviceBounds, filterOf, frequenciesAround } from './deviceBank.js';
import type { DeviceProfile } from './deviceProfile.js';
import { isContinuous, isWithoutSteps } from './deviceValues.js';
import { hasCoarseFrequencies, onCoarseFrequencies } from './onCoarseFrequencies.js';
import { realError, statedRmsDb } from './realError.js';
import { searchGrid } from './searchGrid.js';
import { fixOneByOne } from './settleOnGrid.js';
import { type StoredBank, storedBank } from './storedBank.js';
import { withDenserCaps } from './withDenserCaps.js';
import { withinLimits } from './withinLimits.js';

/** A bank that a device can hold, with what that cost. */
export interface DeviceFit extends FitResult {
  /** One for each filter, in the same order: what is entered into the device. */
  readonly settings: readonly DeviceBand[];
  /** Weighted RMS as a design states it (see realError.ts), before rounding and of what the device will really do. */
  readonly stated: { readonly unroundedRmsDb: number; readonly roundedRmsDb: number };
  /** What stored coefficients add to the filters' response. */
  readonly deviationDb: LevelAt;
  readonly warnings: readonly Warning[];
}

const REFINED = { maxIterations: 60, tolerance: 1e-6 };

/**
 * Brings a fitted bank onto a device's grid. Frequencies go to their nearest values, then gains and Qs are fixed one
 * after the other, what is still free refitted after each. Where that costs something, other frequencies are searched
 * (searchFrequencies.ts) if they lie far apart, and the grid itself about what was found (searchGrid.ts). Every limit
 * of the problem holds on what the device will really do, its stored coefficients included (withinLimits.ts).
 *
 * @param problem with its limits narrowed by `deviceLimits`
 * @param fitted `fitFilters` of that problem
 * @param maxBands bands that may be used in all
 * @param options.hops of the search for other frequencies; few, where the search on the grid takes its place
 * @param options.stated the curve on which the cost is told, where that is not the problem's own
 */
export function roundToDevice(
  problem: FitProblem,
  fitted: FitResult,
  device: DeviceProfile,
  maxBands: number,
  { hops = HOPS, stated = problem }: { readonly hops?: number; readonly stated?: FitProblem } = {},
): DeviceFit {
  const bounds: DeviceBounds = {
    device,
    sampleRateHz: problem.sampleRateHz,
    limits: problem.limits,
  };
  const start = withFixedBands(problem, fitted, device, maxBands);
  const most = fixedSlots(device).length > 0 ? maxBands : Math.min(maxBands, problem.limits.maxBands);
  const rmsOf = (filters: readonly Filter[], deviationDb?: LevelAt) =>
    statedRmsDb(problem, stated, filters, deviationDb);
  const lost: Warning[] = [];

  const dense = withDenserCaps(problem);
  const found = ontoGrid(dense, bounds, start, most, hops);
  const kept = held(dense, bounds, found, most, lost);
  const bank = entered(bounds, kept);
  const roundedRmsDb = rmsOf(bank.filters, bank.stored.deviationDb);
  const unroundedRmsDb = rmsOf(filtersFromBands(start));
  const dear = dearRounding(device, {
    unroundedRmsDb,
    roundedRmsDb,
    exactlyComputedRmsDb: () => {
      if (!device.coefficients?.fixedPoint) return roundedRmsDb;
      const { coefficients: _, ...exact } = device;
      const onExact = { ...bounds, device: exact };
      return rmsOf(entered(onExact, held(dense, onExact, found, most, [])).filters);
    },
    lost: lost.length,
  });
  return {
    ...finished(problem, fitted, bank),
    stated: { unroundedRmsDb, roundedRmsDb },
    warnings: [...lost, ...bank.stored.fits.flatMap((fit) => fit.warnings), ...dear],
  };
}

/** A bank on the grid brought within the limits; what the number format cannot hold is left out and told of. */
function held(
  problem: FitProblem,
  bounds: DeviceBounds,
  found: readonly DeviceBand[],
  maxBands: number,
  lost: Warning[],
): readonly DeviceBand[] {
  return withinLimits(problem, bounds, found, {
    again: (drawnIn, bank, bands) => again(drawnIn, bounds, bank, Math.min(maxBands, bands)),
    lost: (bands) => lost.push(...bands.flatMap((fit) => fit.warnings.map(leftOut))),
  });
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
  const options = {
    ...REFINED,
    frozen: (j: number) => j % 3 === 0 && isFixed(j / 3),
  };
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

/** Of the search over frequencies that lie far apart … */
const HOPS = 700;
/** … and of the one on the grid itself, where each costs more; fewer for more than ten bands. */
const GRID_HOPS = 6;
const FULL_HOPS_BANDS = 10;

function ontoGrid(
  problem: FitProblem,
  bounds: DeviceBounds,
  start: Bands,
  maxBands: number,
  hops: number,
): readonly DeviceBand[] {
  if (start.types.length === 0) return [];
  const near = settled(problem, bounds, start);
  const isFree = isWithoutSteps(bounds.device);
  const nearest = isFree ? near : searchGrid(problem, bounds, [near], maxBands, { hops: 0, inPairs: false });
  const unrounded = realError(problem, filtersFromBands(start)).rmsDb;
  const rounded = realError(problem, filtersFromBands(bandsOf(bounds, nearest)!)).rmsDb;
  const isGood = rounded <= Math.max(unrounded * GOOD_SHARE, unrounded + GOOD_DB);
  if (isGood) return isFree ? near : refinedBetween(problem, bounds, nearest);
  const elsewhere = onCoarseFrequencies(problem, bounds, start, maxBands, hops);
  const few = Math.ceil(Math.min(hops, GRID_HOPS) * Math.min(1, FULL_HOPS_BANDS / maxBands));
  const found = searchGrid(problem, bounds, [nearest, ...elsewhere], maxBands, {
    hops: elsewhere.length > 0 ? 0 : few,
    inPairs: true,
  });
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
  if (isWithoutSteps(bounds.device)) {
    const near = settled(problem, bounds, bandsOf(bounds, bank)!);
    const objective = objectiveOf(problem, 1, bank.length);
    const value = (of: readonly DeviceBand[]) => objectiveValue(objective, bandsOf(bounds, of)!);
    // Numbers that the device's convention does not have may have come out.
    if (value(near) <= value(bank)) return near;
  }
  return searchGrid(problem, bounds, [bank], maxBands, { hops: 0, inPairs: hasCoarseFrequencies(bounds) });
}

/** Frequencies at their nearest values, the other numbers fixed one after the other. */
function settled(problem: FitProblem, device: DeviceBounds, start: Bands): DeviceBand[] {
  const fixedHz = fixedSlots(device.device).map(({ frequencyHz }) => frequencyHz);
  const filters = filtersFromBands(start);
  const isFixed = (band: number) =>
    fixedHz.some((hz) => Math.abs(hz - filters[band]!.frequencyHz) < 1e-6 * hz);
  const objective = objectiveOf(problem, 1, start.types.length);
  const values = start.values.map((lnF, j) => {
    if (j % 3 !== 0 || isFixed(j / 3)) return lnF;
    const near = frequenciesAround(device, exp(lnF)).map((hz) => log(hz));
    return near.reduce((a, b) => (Math.abs(b - lnF) < Math.abs(a - lnF) ? b : a));
  });
  const bands = { types: start.types, values };
  return fixOneByOne({ device, objective, bounds: boundsOf(problem.limits), isFixed }, bands);
}

interface BankInDevice {
  readonly settings: readonly DeviceBand[];
  readonly filters: readonly Filter[];
  readonly stored: StoredBank;
}

function entered(bounds: DeviceBounds, bank: readonly DeviceBand[]): BankInDevice {
  const settings = [...bank].sort((a, b) => a.frequencyHz - b.frequencyHz || a.q - b.q);
  const filters = settings.map((band) => filterOf(bounds, band)!);
  return { settings, filters, stored: storedBank(filters, bounds.device, bounds.sampleRateHz) };
}

function finished(
  problem: FitProblem,
  fitted: FitResult,
  { settings, filters, stored }: BankInDevice,
): Omit<DeviceFit, 'stated' | 'warnings'> {
  const bands = bandsFromFilters(filters);
  return {
    filters,
    settings,
    ...realError(problem, filters, stored.deviationDb),
    deviationDb: stored.deviationDb,
    stopReason: `${fitted.stopReason}; then rounded to the device`,
    iterations: fitted.iterations,
    limitsReached: [
      ...boundsReached(bands, boundsOf(problem.limits)),
      ...sharedLimitsReached(problem, bands),
    ],
  };
}

function leftOut(warning: Warning): Warning {
  return {
    ...warning,
    message: `${warning.message} It is left out.`,
  };
}

function objectiveOf(problem: FitProblem, stride: number, maxBands: number): Objective {
  return objectiveFor(problem, fitGrid(problem, stride), maxBands, {
    penalty: FIRM_PENALTY,
    restraint: 0,
    levelRestraint: LEVEL_RESTRAINT,
  });
}
