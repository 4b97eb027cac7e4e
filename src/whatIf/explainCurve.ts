import type { Setup } from '../acoustics/setup.js';
import { speedOfSound } from '../acoustics/speedOfSound.js';
import type { Curve, FrequencyRange } from '../curve/curve.js';
import { localSmooth } from '../diagnosis/features/localSmooth.js';
import { pathProblem } from '../diagnosis/paths/pathProblem.js';
import { fallDb, fitRollOff } from '../diagnosis/speaker/rollOff.js';
import { log2 } from '../elementary/logarithm.js';
import { cabinetRadiusM, fitMirrors, LEAST_LATE, weakMirrors } from './fitMirrors.js';
import { mirrorGrid } from './mirrorModel.js';
import { type MirrorScene, mirroredDb } from './mirrorScene.js';

/** A measured curve taken apart into the speaker and what the set-up's surfaces do to its sound. */
export interface ExplainedCurve extends MirrorScene {
  readonly curve: Curve;
  /** What the surfaces do to it, in dB; the rest is the speaker, and what they do not explain. */
  readonly reflectedDb: Float64Array;
}

/** Late sound shows as ripple finer than this, where placement decides. */
const FINE_OCTAVES = 0.3;
const RIPPLE_FROM_HZ = 100;
const RIPPLE_TO_HZ = 1000;
/** Ripple in dB RMS of a steady sound with a noise of the same power added: 20/ln 10/√2. */
const RIPPLE_DB = 20 / Math.LN10 / Math.SQRT2;

/**
 * Fits the set-up's surfaces to a curve: what `whatIfCurve` needs, worked out once. Twice in truth: the ripple that the
 * first fit leaves says how much later sound there is, which fills the nulls of the second.
 *
 * @param curve on a log grid
 * @returns nothing where the set-up names no surface, or the curve is too short to say anything of reflections
 */
export function explainCurve(curve: Curve, range: FrequencyRange, setup: Setup): ExplainedCurve | undefined {
  if (setup.surfaces.length === 0) return undefined;
  const { frequencyHz, levelDb } = curve;
  const speedOfSoundMs = speedOfSound(setup.temperatureC);
  const fall = fallDb(fitRollOff(curve), frequencyHz);
  const flatDb = fall ? levelDb.map((db, i) => db - fall[i]!) : levelDb;
  const problem = pathProblem({ frequencyHz, levelDb: flatDb }, range, speedOfSoundMs);
  if (!problem) return undefined;
  const grid = mirrorGrid(frequencyHz, speedOfSoundMs, cabinetRadiusM(setup));
  const first = fitMirrors(problem, setup);
  const firstDb = mirroredDb({ setup, grid, fit: first });
  const leftDb = levelDb.map((db, i) => db - firstDb[i]!);
  const latePower = Math.max(LEAST_LATE, (rippleDb(frequencyHz, leftDb) / RIPPLE_DB) ** 2);
  // Combs of different surfaces can stand in for each other, so it is begun from several sides.
  const fit = [undefined, first.parameters, weakMirrors(setup)]
    .map((start) => fitMirrors(problem, setup, latePower, start))
    .reduce((best, other) => (other.cost < best.cost ? other : best));
  return { curve, setup, fit, grid, reflectedDb: mirroredDb({ setup, grid, fit }) };
}

/** The ripple in dB RMS that the later sound of a fit stands for. */
export function lateRippleDb({ fit }: MirrorScene): number {
  return RIPPLE_DB * Math.sqrt(fit.latePower);
}

function rippleDb(frequencyHz: Float64Array, levelDb: Float64Array): number {
  const smooth = localSmooth(frequencyHz.map(log2), levelDb, FINE_OCTAVES);
  const fine = levelDb
    .map((db, i) => db - smooth[i]!)
    .filter((_, i) => frequencyHz[i]! > RIPPLE_FROM_HZ && frequencyHz[i]! < RIPPLE_TO_HZ);
  return Math.sqrt(fine.reduce((sum, db) => sum + db * db, 0) / Math.max(1, fine.length));
}
