import type { FrequencyRange } from '../../curve/curve.js';
import type { Feature } from '../features/detectFeatures.js';
import type { Scene } from '../scene/scene.js';

/** RMS height, in dB, of so many octaves on either side of a feature, it and its flanks left out; 0 where there is nothing around. */
export function roughnessAround(
  { index, widthOctaves }: Pick<Feature, 'index' | 'widthOctaves'>,
  { frequencyHz, octave, heightDb }: Pick<Scene, 'frequencyHz' | 'octave' | 'heightDb'>,
  reachOctaves: number,
  within: FrequencyRange = { fromHz: 0, toHz: Number.POSITIVE_INFINITY },
): number {
  let sum = 0;
  let count = 0;
  for (let i = 0; i < octave.length; i++) {
    const away = Math.abs(octave[i]! - octave[index]!);
    if (away > reachOctaves + widthOctaves || away < widthOctaves) continue;
    if (frequencyHz[i]! < within.fromHz || frequencyHz[i]! > within.toHz) continue;
    sum += heightDb[i]! ** 2;
    count++;
  }
  return count > 0 ? Math.sqrt(sum / count) : 0;
}
