import type { Filter } from '../filter/filter.js';
import { bandsFromFilters, filtersFromBands } from '../fit/bank/bands.js';
import { boundsOf, boundsReached } from '../fit/bank/bounds.js';
import { sharedLimitsReached } from '../fit/finish/sharedLimits.js';
import type { LevelAt } from '../fit/objective/excess.js';
import type { FitProblem, FitResult } from '../fit/problem/fitProblem.js';
import type { Warning } from '../warning.js';
import { dearRounding } from './grid/dearRounding.js';
import { nearestBank } from './grid/nearestBank.js';
import { ontoGrid, ontoGridAgain } from './grid/ontoGrid.js';
import { withDenserCaps } from './grid/withDenserCaps.js';
import { withinLimits } from './grid/withinLimits.js';
import { fixedSlots } from './profile/bandSlots.js';
import type { DeviceProfile } from './profile/deviceProfile.js';
import { usableBands } from './profile/usableBands.js';
import { type DeviceBand, type DeviceBounds, filterOf } from './stored/deviceBank.js';
import { realError, statedRmsDb } from './stored/realError.js';
import { type StoredBank, storedBank } from './stored/storedBank.js';
import { withFixedBands } from './stored/withFixedBands.js';

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
  whole: DeviceProfile,
  maxBands: number,
  { hops, stated = problem }: { readonly hops?: number; readonly stated?: FitProblem } = {},
): DeviceFit {
  const device = usableBands(whole, problem.limits);
  const bounds: DeviceBounds = {
    device,
    sampleRateHz: problem.sampleRateHz,
    limits: problem.limits,
  };
  const start = withFixedBands(problem, fitted, device, maxBands);
  const most = fixedSlots(device).length > 0 ? maxBands : Math.min(maxBands, problem.limits.maxBands);
  const rmsOf = (filters: readonly Filter[], deviationDb?: LevelAt) =>
    statedRmsDb(problem, stated, filters, deviationDb);

  const dense = withDenserCaps(problem);
  const found = ontoGrid(dense, bounds, start, most, hops);
  const searched = (where: DeviceBounds) =>
    held(dense, where, found, (drawnIn, bank, bands) =>
      ontoGridAgain(drawnIn, where, bank, Math.min(most, bands)),
    );
  // A search that has to keep limits may end above what the nearest numbers come to by luck.
  const nearest = held(dense, bounds, nearestBank(bounds, filtersFromBands(start)), (_, bank) => bank);
  const { bank, lost } = better(problem, searched(bounds), nearest);
  const roundedRmsDb = rmsOf(bank.filters, bank.stored.deviationDb);
  const unroundedRmsDb = rmsOf(filtersFromBands(start));
  const dear = dearRounding(device, {
    unroundedRmsDb,
    roundedRmsDb,
    exactlyComputedRmsDb: () => {
      if (!device.coefficients?.fixedPoint) return roundedRmsDb;
      const { coefficients: _, ...exact } = device;
      const onExact = { ...bounds, device: exact };
      return rmsOf(searched(onExact).bank.filters);
    },
    lost: lost.length,
  });
  return {
    ...finished(problem, fitted, bank),
    stated: { unroundedRmsDb, roundedRmsDb },
    warnings: [...lost, ...bank.stored.fits.flatMap((fit) => fit.warnings), ...dear],
  };
}

interface Held {
  readonly bank: BankInDevice;
  /** What the number format cannot hold is left out and told of. */
  readonly lost: readonly Warning[];
}

/** A bank on the grid brought within the limits. */
function held(
  problem: FitProblem,
  bounds: DeviceBounds,
  found: readonly DeviceBand[],
  again: (drawnIn: FitProblem, bank: readonly DeviceBand[], maxBands: number) => readonly DeviceBand[],
): Held {
  const lost: Warning[] = [];
  const kept = withinLimits(problem, bounds, found, {
    again,
    lost: (bands) => lost.push(...bands.flatMap((fit) => fit.warnings.map(leftOut))),
  });
  return { bank: entered(bounds, kept), lost };
}

function better(problem: FitProblem, a: Held, b: Held): Held {
  const errorOf = ({ bank }: Held) => realError(problem, bank.filters, bank.stored.deviationDb).rmsDb;
  return errorOf(b) < errorOf(a) ? b : a;
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
