import { exp } from '../../elementary/exponential.js';
import { formatLength } from '../../units/formatLength.js';
import type { Warning } from '../../warning.js';
import { KNOTS_HZ, PARAMETERS_PER_PATH } from '../paths/pathModel.js';
import { fittedSurface } from '../scene/fittedSurface.js';
import type { Scene } from '../scene/scene.js';

/** A fitted distance is worth a word when it is off by this share and by so many standard deviations … */
const OFF_SHARE = 0.13;
const OFF_DEVIATIONS = 2.5;
/** … from a reflection at least this strong somewhere. */
const LEAST_STRENGTH = 0.25;
/** A curve that the fit does not describe (squared deviation per point) says nothing of distances. */
const WORST_FIT = 0.6;

/** Surfaces that the curve shows elsewhere than the set-up has them. */
export function geometryWarnings({ input, reflected }: Scene): Warning[] {
  const { setup } = input;
  if (!setup || !reflected) return [];
  const { explanation } = reflected;
  if (explanation.fit.dataCost > WORST_FIT * explanation.grid.frequencyHz.length) return [];
  return explanation.expected.flatMap((_, path) => {
    const surface = fittedSurface(explanation, path, setup);
    if (!surface) return [];
    const { name, saidM, distanceM, deviationM } = surface;
    const base = path * PARAMETERS_PER_PATH + 1;
    const strongest = exp(Math.max(...explanation.fit.parameters.slice(base, base + KNOTS_HZ.length)));
    const off = Math.abs(distanceM / saidM - 1);
    if (
      off < OFF_SHARE ||
      Math.abs(distanceM - saidM) < OFF_DEVIATIONS * deviationM ||
      strongest < LEAST_STRENGTH
    )
      return [];
    const length = (m: number) => formatLength(m, setup.lengthUnit);
    return [
      {
        code: 'geometry-disagrees',
        message: `The curve fits "${name}" at ${length(distanceM)}, and the set-up has ${length(saidM)}: measure again from the plane to the front baffle.`,
      },
    ];
  });
}
