import { assignSlots } from '../device/profile/assignSlots.js';
import { bandCount, fixedSlots } from '../device/profile/bandSlots.js';
import type { DeviceProfile } from '../device/profile/deviceProfile.js';
import { roundToDevice } from '../device/roundToDevice.js';
import type { Filter } from '../filter/filter.js';
import type { LevelAt } from '../fit/objective/excess.js';
import type { FitProblem, FitResult } from '../fit/problem/fitProblem.js';
import type { Design } from '../schema/design.js';
import type { Warning } from '../warning.js';
import { type BankOnDevice, bankOnDevice } from './bankOnDevice.js';
import { deviceBeside } from './besideHeld.js';
import type { DesignRequest } from './designRequest.js';
import { realBank } from './realBank.js';
import { roundDb } from './rounding.js';
import type { SolvedRequest } from './solveRequest.js';

/** A fitted bank with what it really does. */
export interface RealFit {
  readonly fit: FitResult;
  /** Response of the bank, rounded coefficients included. */
  readonly responseDb: LevelAt;
  readonly maximum: BankOnDevice['maximum'];
  readonly inputGainDb: number;
  readonly warnings: readonly Warning[];
  /** The fields that a design for a device has besides. */
  readonly fields: Pick<Design, 'device' | 'deviceSettings' | 'deviceCost'>;
}

interface Beside {
  /** Filters that are in already. */
  readonly held?: readonly Filter[];
  readonly stated?: FitProblem;
}

/** What was fitted, on the device asked for where there is one. */
export function realFitOf(
  { asked, problem }: Pick<SolvedRequest, 'asked' | 'problem'>,
  request: Pick<DesignRequest, 'device' | 'bands' | 'held'>,
): RealFit {
  const { device, bands, held = [] } = request;
  // What was saved since the measurement does not repeat well enough is not spent on the way to the device.
  const isSaving = asked.regardless !== undefined && !(device && fixedSlots(device).length > 0);
  const most = isSaving ? held.length + asked.fit.filters.length : bands;
  return fitForDevice(asked.problem, asked.fit, device, most, { held, stated: problem });
}

/**
 * Rounds a fit to a device where there is one, and says what the result really does.
 *
 * @param options.stated the curve on which the cost is told: the average, where the problem leans towards some positions
 */
export function fitForDevice(
  problem: FitProblem,
  fitted: FitResult,
  device: DeviceProfile | undefined,
  bands: number,
  { held = [], stated = problem }: Beside = {},
): RealFit {
  const { sampleRateHz } = problem;
  if (held.length > 0) return besideThem(problem, fitted, device, bands, { held, stated });
  if (!device) {
    const { filters: _, ...bank } = realBank(fitted.filters, sampleRateHz);
    return { fit: fitted, ...bank };
  }
  const fit = roundToDevice(problem, fitted, device, Math.min(bands, bandCount(device)), { stated });
  const { filters, settings, deviationDb, warnings } = fit;
  const unroundedRmsDb = roundDb(fit.stated.unroundedRmsDb);
  const roundedRmsDb = roundDb(fit.stated.roundedRmsDb);
  const slots = assignSlots(settings, device);
  const bank = bankOnDevice({ filters, settings, slots, deviationDb }, device, sampleRateHz);
  return {
    fit,
    ...bank,
    warnings,
    fields: {
      ...bank.fields,
      deviceCost: { unroundedRmsDb, roundedRmsDb, costDb: roundDb(roundedRmsDb - unroundedRmsDb) },
    },
  };
}

/** The bands that were fitted, put beside those that were in already. */
function besideThem(
  problem: FitProblem,
  fitted: FitResult,
  device: DeviceProfile | undefined,
  bands: number,
  { held, stated }: Required<Beside>,
): RealFit {
  const { sampleRateHz } = problem;
  const left = device && deviceBeside(device, held, sampleRateHz);
  const usable = problem.limits.maxBands > 0 || (left && fixedSlots(left).length > 0) ? left : undefined;
  const rest = fitForDevice(problem, fitted, usable, Math.max(0, bands - held.length), { stated });
  const bank = realBank([...rest.fit.filters, ...held], sampleRateHz, device);
  return {
    fit: { ...rest.fit, filters: bank.filters },
    responseDb: bank.responseDb,
    maximum: bank.maximum,
    inputGainDb: bank.inputGainDb,
    warnings: bank.warnings,
    fields: { ...bank.fields, ...(rest.fields.deviceCost && { deviceCost: rest.fields.deviceCost }) },
  };
}
