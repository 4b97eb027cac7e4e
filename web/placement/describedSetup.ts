import type { MeasuredLength, Setup } from '../../src/acoustics/setup.js';
import { readLength } from './readLength.js';

/** One surface as it was typed. */
export interface DescribedSurface {
  readonly name: string;
  readonly speaker: string;
  readonly microphone: string;
}

export interface Description {
  /** From speaker to microphone. */
  readonly straight: string;
  readonly surfaces: readonly DescribedSurface[];
}

/** Of the distance to the microphone: a tenth of a millimetre is none. */
const LEAST_M = 1e-4;
const ROOM_C = 20;

/**
 * A set-up from what was typed, bare numbers in cm. Rows without a distance say nothing.
 *
 * @returns the set-up, or all that is wrong, in words
 */
export async function describedSetup({
  straight,
  surfaces,
}: Description): Promise<{ readonly setup: Setup } | { readonly problems: readonly string[] }> {
  const problems: string[] = [];
  const read = async (text: string, what: string, leastM: number): Promise<MeasuredLength> => {
    const none = { m: 0, toleranceM: 0 };
    if (text.trim() === '') {
      problems.push(`${what}: found nothing, expected a distance such as 29 cm`);
      return none;
    }
    const result = await readLength(text, 'cm', what);
    if ('problem' in result) problems.push(result.problem);
    else if (result.length.m < leastM) problems.push(`${what}: found "${text}", expected more than 0`);
    else return result.length;
    return none;
  };
  const microphoneDistance = await read(straight, 'Speaker to microphone', LEAST_M);
  const described = surfaces.filter((each) => `${each.speaker}${each.microphone}`.trim() !== '');
  const all = [];
  for (const [i, { name, speaker, microphone }] of described.entries()) {
    const called = name.trim();
    if (called === '') problems.push('A surface: found no name, expected one such as "wall behind"');
    else if (described.slice(0, i).some((other) => other.name.trim() === called))
      problems.push(`"${called}": found twice, expected a name for each surface`);
    all.push({
      name: called,
      speakerDistance: await read(speaker, `Speaker from ${called || 'a surface'}`, 0),
      microphoneDistance: await read(microphone, `Microphone from ${called || 'a surface'}`, 0),
    });
  }
  if (problems.length > 0) return { problems };
  return {
    setup: { temperatureC: ROOM_C, microphoneDistance, surfaces: all, lengthUnit: 'cm' },
  };
}
