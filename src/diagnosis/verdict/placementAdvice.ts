import { pathDifferenceM } from '../../acoustics/imageSource.js';
import { planeGeometry } from '../../acoustics/planeGeometry.js';
import type { Setup } from '../../acoustics/setup.js';
import { speedOfSound } from '../../acoustics/speedOfSound.js';
import { formatFrequency } from '../../units/formatFrequency.js';
import { formatLength } from '../../units/formatLength.js';

/** How far a speaker can usually be moved where it is used, in metres: what advice takes for its example. */
export function advisedStepM(unit: Setup['lengthUnit']): number {
  return { cm: 0.2, in: 0.2032 }[unit];
}

/**
 * What to do about a cancellation by a surface of the set-up: where the dip goes with the speaker farther away, by the
 * distances alone, speaker and microphone moving together. Which place is best on the whole that does not tell.
 *
 * @param dipHz where the dip was found: its half wavelengths are the way that the sound really lags behind
 */
export function placementAdvice(setup: Setup, surfaceName: string, dipHz: number): string | undefined {
  const surface = setup.surfaces.find(({ name }) => name === surfaceName);
  if (!surface) return undefined;
  const plane = planeGeometry(setup, surface);
  const stepM = advisedStepM(setup.lengthUnit);
  const said = (m: number) => formatLength(m, setup.lengthUnit);
  const hereM = pathDifferenceM(plane);
  const thereM = pathDifferenceM({ r: plane.r, hs: plane.hs + stepM, hm: plane.hm + stepM });
  const halfWaveM = speedOfSound(setup.temperatureC) / (2 * dipHz);
  const halfWaves = 2 * Math.max(0, Math.round((hereM / halfWaveM - 1) / 2)) + 1;
  const lagM = halfWaves * halfWaveM - hereM;
  const goesToHz = (dipHz * (hereM + lagM)) / (thereM + lagM);
  return (
    `Move the speaker, farther or nearer. By the distances alone, ${said(stepM)} farther from "${surface.name}" ` +
    `(to ${said(plane.hs + stepM)}, the microphone moving along) takes this dip to about ${formatFrequency(goesToHz)}; ` +
    'which place is best, only a forecast of the whole curve can tell. Then measure again.'
  );
}
