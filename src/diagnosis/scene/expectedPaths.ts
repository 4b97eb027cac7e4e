import type { Setup } from '../../acoustics/setup.js';
import { log } from '../../elementary/logarithm.js';
import { strengthPrecision } from '../paths/fitPaths.js';
import { KNOTS_HZ } from '../paths/pathModel.js';
import { surfacePrior } from '../paths/surfacePrior.js';
import type { TimeReflection } from './diagnosisInput.js';
import type { ExpectedPath } from './explainByPaths.js';

/** Reflections in time beyond these say nothing of single dips. */
const MOST_IN_TIME = 6;
const LEAST_LEVEL_DB = -20;
const FARTHEST_M = 5;
/** How well a reflection in time gives its path difference, relative. */
const TIME_ERROR = 0.02;
/** How far (in ln) a surface's path may lie from a reflection in time that is taken for it. */
const SAME = 0.2;

/** The paths that set-up and impulse response give reason to look for, the set-up's surfaces first, in its order. */
export function expectedPaths(
  setup: Setup | undefined,
  reflections: readonly TimeReflection[],
  speedOfSoundMs: number,
): ExpectedPath[] {
  const seen = reflections
    .filter((r) => r.levelDb > LEAST_LEVEL_DB && r.pathDifferenceM > 0.1 && r.pathDifferenceM < FARTHEST_M)
    .sort((a, b) => b.levelDb - a.levelDb)
    .slice(0, MOST_IN_TIME);
  const used = new Set<TimeReflection>();
  const named = (setup?.surfaces ?? []).map((surface): ExpectedPath => {
    const prior = surfacePrior(setup!, surface, speedOfSoundMs);
    const miss = (r: TimeReflection) => Math.abs(log(r.pathDifferenceM) - prior.lnDifference);
    const nearest = seen.filter((r) => !used.has(r) && miss(r) < SAME).sort((a, b) => miss(a) - miss(b))[0];
    if (!nearest) return { name: surface.name, prior };
    used.add(nearest);
    return {
      name: surface.name,
      prior: { ...prior, lnDifference: log(nearest.pathDifferenceM), lnDifferenceScale: TIME_ERROR },
      seen: nearest,
    };
  });
  const unnamed = seen
    .filter((r) => !used.has(r))
    .map(
      (r): ExpectedPath => ({
        prior: {
          lnDifference: log(r.pathDifferenceM),
          lnDifferenceScale: TIME_ERROR,
          lnStrength: KNOTS_HZ.map(() => Math.min(0, (r.levelDb * Math.LN10) / 20)),
          strengthPrecision: strengthPrecision(KNOTS_HZ.length, 0.4, 0.4),
        },
        seen: r,
      }),
    );
  return [...named, ...unnamed];
}
