import type { Setup } from '../../src/acoustics/setup.js';
import { formatLength } from '../../src/units/formatLength.js';

/** Where the speaker stands, in one line. */
export function placeWords({ surfaces, microphoneDistance, lengthUnit }: Setup): string {
  const said = (m: number) => formatLength(m, lengthUnit);
  const distances = surfaces.map(({ name, speakerDistance }) => `${said(speakerDistance.m)} from ${name}`);
  return `The speaker stands ${[...distances, `${said(microphoneDistance.m)} from the microphone`].join(', ')}.`;
}
