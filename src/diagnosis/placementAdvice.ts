import { pathDifferenceM } from '../acoustics/imageSource.js';
import { planeGeometry } from '../acoustics/planeGeometry.js';
import type { Setup } from '../acoustics/setup.js';
import { speedOfSound } from '../acoustics/speedOfSound.js';
import { formatFrequency } from '../units/formatFrequency.js';
import { formatLength } from '../units/formatLength.js';

/** How far a speaker can usually be moved where it is used. */
const STEP_M = { cm: 0.2, in: 0.2032 };

/**
 * What to do about a cancellation by a surface of the set-up: how far to move, and where its first cancellation then
 * goes, speaker and microphone moving together.
 */
export function placementAdvice(setup: Setup, surfaceName: string): string | undefined {
  const surface = setup.surfaces.find(({ name }) => name === surfaceName);
  if (!surface) return undefined;
  const plane = planeGeometry(setup, surface);
  const c = speedOfSound(setup.temperatureC);
  const stepM = STEP_M[setup.lengthUnit];
  const firstHz = (moveM: number) => {
    const moved = { r: plane.r, hs: plane.hs + moveM, hm: plane.hm + moveM };
    return c / (2 * pathDifferenceM(moved));
  };
  return (
    `Move the speaker about ${formatLength(stepM, setup.lengthUnit)} farther from "${surface.name}" ` +
    `(to ${formatLength(plane.hs + stepM, setup.lengthUnit)}): the first cancellation goes from about ` +
    `${formatFrequency(firstHz(0))} to ${formatFrequency(firstHz(stepM))} and gets weaker. Then measure again.`
  );
}
