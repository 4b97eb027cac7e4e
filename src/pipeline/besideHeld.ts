import type { DeviceBands, DeviceProfile } from '../device/profile/deviceProfile.js';
import { bankMean } from '../filter/bankMean.js';
import { bankResponseDb } from '../filter/bankResponseDb.js';
import type { Filter } from '../filter/filter.js';
import type { FitLimits, FitProblem } from '../fit/problem/fitProblem.js';
import { checkBelowHalfRate } from './checkBelowHalfRate.js';
import type { DesignRequest } from './designRequest.js';
import { realBank, slotsOf, withoutSlots } from './realBank.js';

/**
 * A request for the bands that are left beside those that are held.
 *
 * @param limitsOf what may be fitted for a request; the device's own bounds are not asked where no band of it is left
 * @throws InputError where a held filter stands above half the sample rate
 */
export function limitsBeside(
  request: DesignRequest,
  limitsOf: (request: DesignRequest) => FitLimits,
): FitLimits {
  const { device, held = [], sampleRateHz } = request;
  if (held.length === 0) return limitsOf(request);
  checkBelowHalfRate(held, sampleRateHz);
  const { device: _, ...anywhere } = { ...request, bands: Math.max(0, request.bands - held.length) };
  const free = limitsOf(anywhere);
  if (!device) return free;
  const left = deviceBeside(device, held, sampleRateHz);
  const isOpen = ({ atHz }: DeviceBands) =>
    !atHz || atHz.some((hz) => hz >= free.minFrequencyHz && hz <= free.maxFrequencyHz);
  return left.bands.some(isOpen) ? limitsOf({ ...anywhere, device: left }) : { ...free, maxBands: 0 };
}

/** A device with the bands that the held filters leave. */
export function deviceBeside(
  device: DeviceProfile,
  held: readonly Filter[],
  sampleRateHz: number,
): DeviceProfile {
  return withoutSlots(device, slotsOf(realBank(held, sampleRateHz, device).filters, device));
}

/**
 * The problem that is left for the other bands where some filters are held as they are: their response belongs to the
 * curve, and what they boost or lose is no longer to be spent. Without held filters it is the problem itself.
 */
export function besideHeld(problem: FitProblem, held: readonly Filter[]): FitProblem {
  if (held.length === 0) return problem;
  const { sampleRateHz, frequencyHz, capFrequencyHz, limits, zones } = problem;
  const { fromHz, toHz } = problem.range ?? { fromHz: frequencyHz[0]!, toHz: frequencyHz.at(-1)! };
  const heldDb = bankResponseDb(held, sampleRateHz, frequencyHz);
  const heldAtCapsDb = bankResponseDb(held, sampleRateHz, capFrequencyHz);
  const heldMeanDb = bankMean(held, sampleRateHz, fromHz, toHz);
  const riseIn = (lowHz: number, highHz: number) =>
    frequencyHz.reduce((most, hz, i) => (hz >= lowHz && hz <= highHz ? Math.max(most, heldDb[i]!) : most), 0);
  return {
    ...problem,
    deviationDb: problem.deviationDb.map((db, i) => db + heldDb[i]!),
    // What the user holds may go beyond a limit; the rest is not bound to make up for it.
    capDb: problem.capDb.map((db, i) => Math.max(0, db - heldAtCapsDb[i]!)),
    zones: zones.map((zone) => ({
      ...zone,
      maxRiseDb: Math.max(0, zone.maxRiseDb - riseIn(zone.fromHz, zone.toHz)),
    })),
    limits: {
      ...limits,
      maxLevelLossDb: Math.max(0, limits.maxLevelLossDb + heldMeanDb),
    },
  };
}
