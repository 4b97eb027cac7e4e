import type { Setup } from '../../../src/acoustics/setup.js';

export interface Place {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

const length = (m: number) => ({ m, toleranceM: 0 });

/** The set-up of a speaker and a microphone in a box of planes, all distances from their coordinates in metres. */
export function roomSetup(speaker: Place, microphone: Place, size: Place, names = allNames): Setup {
  const distances: Readonly<Record<string, (p: Place) => number>> = {
    'wall behind': (p) => p.x,
    'wall across': (p) => size.x - p.x,
    'left wall': (p) => p.y,
    'right wall': (p) => size.y - p.y,
    floor: (p) => p.z,
    ceiling: (p) => size.z - p.z,
  };
  return {
    temperatureC: 20,
    microphoneDistance: length(
      Math.hypot(speaker.x - microphone.x, speaker.y - microphone.y, speaker.z - microphone.z),
    ),
    surfaces: names.map((name) => ({
      name,
      speakerDistance: length(distances[name]!(speaker)),
      microphoneDistance: length(distances[name]!(microphone)),
    })),
    lengthUnit: 'cm',
  };
}

export const allNames = ['wall behind', 'wall across', 'left wall', 'right wall', 'floor', 'ceiling'];
