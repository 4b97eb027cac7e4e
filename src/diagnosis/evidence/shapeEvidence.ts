import { log2 } from '../../elementary/logarithm.js';
import { clip } from '../features/clip.js';
import type { Feature } from '../features/detectFeatures.js';
import type { Scene } from '../scene/scene.js';
import type { Evidence } from './evidence.js';
import { tenths } from './tenths.js';

const HIGH_HZ = 2500;

/** Depth, width and steepness: a speaker's own dips are seldom both deep and narrow. */
export function shapeEvidence(dip: Feature, scene: Scene): Evidence {
  const depthDb = -scene.measured.localDb[dip.index]!;
  const { widthOctaves } = dip;
  const high = dip.frequencyHz > HIGH_HZ ? 1 : 0;
  return {
    label: 'its shape',
    byCurve: true,
    sentence: `${tenths(dip.levelDb).replace('-', '')} dB below the trend around it, ${widthOctaves.toFixed(2)} octave wide at half its depth.`,
    terms: [
      { name: 'prior', value: 1 },
      { name: 'depthTo2', value: clip(depthDb, 0, 2) },
      { name: 'depthBeyond', value: clip(depthDb - 2, 0, 4) },
      { name: 'deepNarrow', value: deepNarrow(dip, scene) },
      { name: 'width', value: clip(log2(widthOctaves / 0.2), -2, 2) },
      { name: 'prominence', value: clip(dip.prominenceDb, 0, 5) },
      { name: 'highFrequency', value: high },
      { name: 'highDepth', value: high * clip(depthDb, 0, 5) },
    ],
  };
}

/** Depth beyond what speakers have in so narrow a dip, in dB, weighed by how narrow it is. */
export function deepNarrow({ index, widthOctaves }: Feature, { measured }: Scene): number {
  return clip(-measured.localDb[index]! - 8, 0, 6) * clip((0.6 - widthOctaves) / 0.3, 0, 1);
}
