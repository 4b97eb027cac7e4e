import { type Bands, bandsFromFilters, withoutBand } from '../../fit/bank/bands.js';
import { boundsOf } from '../../fit/bank/bounds.js';
import { fullGrid } from '../../fit/problem/fitGrid.js';
import type { FitProblem, FitResult } from '../../fit/problem/fitProblem.js';
import { refine } from '../../fit/refinement/refine.js';
import { fixedSlots } from '../profile/bandSlots.js';
import type { DeviceProfile } from '../profile/deviceProfile.js';
import { deviceObjective } from './deviceObjective.js';

const REFINED = { maxIterations: 60, tolerance: 1e-6 };

/** Puts a device's fixed bands beside the fitted ones and sets their gains; no more bands in all than may be used. */
export function withFixedBands(
  problem: FitProblem,
  fitted: FitResult,
  device: DeviceProfile,
  maxBands: number,
): Bands {
  const fixed = fixedSlots(device);
  const freeCount = fitted.filters.length;
  if (fixed.length === 0) return bandsFromFilters(fitted.filters);
  const bounds = boundsOf(problem.limits);
  const q = Math.sqrt(problem.limits.minQ * problem.limits.maxQ);
  const objective = deviceObjective(problem, fullGrid(problem), freeCount + fixed.length);
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
