import { exp } from '../../elementary/exponential.js';
import { formatFrequency } from '../../units/formatFrequency.js';
import { formatLength } from '../../units/formatLength.js';
import type { ReflectionShare } from '../evidence/reflectionEvidence.js';
import type { Feature } from '../features/detectFeatures.js';
import { PARAMETERS_PER_PATH } from '../paths/pathModel.js';
import { fittedSurface, pathStrength } from '../scene/fittedSurface.js';
import { type Scene, SURROUNDINGS_OCTAVES } from '../scene/scene.js';
import type { GuiltyPath } from './causeOf.js';

const TELLING_DB = 0.3;

/** What the fitted reflections say of a feature, with the figures of the path that makes most of it. */
export function reflectionSentences(
  feature: Feature,
  share: ReflectionShare,
  guilty: GuiltyPath | undefined,
  scene: Scene,
): string[] {
  const { setup } = scene.input;
  const explanation = scene.reflected?.explanation;
  const heightDb = Math.abs(scene.measured.localDb[feature.index]!);
  const height = heightDb.toFixed(1);
  const stands = feature.kind === 'dip' ? 'lies below' : 'rises above';
  const word = feature.kind === 'dip' ? 'depth' : 'height';
  if (!explanation || explanation.expected.length === 0) {
    return [`No reflection that would explain it was found in the curve.`];
  }
  const made = share.explainedDb < heightDb ? `${share.explainedDb.toFixed(1)} dB` : 'all';
  const all = `All reflections together, fitted to the whole curve, make ${made} of the ${height} dB by which it ${stands} the mean of the ${2 * SURROUNDINGS_OCTAVES} octaves around it.`;
  // What one of them adds is no reason for a feature that the others take away again.
  if (!guilty || share.explainedDb < TELLING_DB) return [all];
  const strength = strengthWords(pathStrength(explanation.fit.parameters, guilty.path, feature.frequencyHz));
  const surface = setup && fittedSurface(explanation, guilty.path, setup);
  const unit = setup?.lengthUnit ?? 'cm';
  const without =
    guilty.lossDb >= TELLING_DB
      ? `without it ${guilty.lossDb < heightDb ? `${guilty.lossDb.toFixed(1)} dB` : 'all'} of the ${word} would be gone`
      : 'one of several that make it together';
  if (surface) {
    const { distanceM, deviationM, saidM, name } = surface;
    return [
      `It fits "${name}" at ${formatLength(distanceM, unit)} ± ${formatLength(Math.max(deviationM, 0.001), unit)} (you said ${formatLength(saidM, unit)}), relative reflection ${strength} at ${formatFrequency(feature.frequencyHz)}; ${without}.`,
      all,
    ];
  }
  const seen = explanation.expected[guilty.path]?.seen;
  const differenceM = exp(explanation.fit.parameters[guilty.path * PARAMETERS_PER_PATH]!);
  const source = seen ? 'The impulse response shows' : 'The curve shows the comb of';
  return [
    `${source} a reflection ${formatLength(differenceM, unit)} longer than the direct sound (a wall about ${formatLength(differenceM / 2, unit)} behind the front, or another surface that makes the same detour), relative strength ${strength}; ${without}.`,
    all,
  ];
}

/**
 * One reflection goes a longer way and loses on it, so it is never stronger than the direct sound on the speaker's axis;
 * a fit that wants more has put sound of several ways about as long into one.
 */
function strengthWords(strength: number): string {
  return strength <= 1
    ? strength.toFixed(2)
    : '1.00 (the curve asks for more than one reflection can have, so several ways about as long add up here)';
}
