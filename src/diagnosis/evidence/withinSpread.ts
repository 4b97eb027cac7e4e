import { log2 } from '../../elementary/logarithm.js';
import { clip } from '../features/clip.js';
import type { Feature } from '../features/detectFeatures.js';
import type { Scene } from '../scene/scene.js';
import { spreadsWithin } from './spreadEvidence.js';

const LEAST_OCTAVES = 1 / 24;
const QUIET_DB = 0.05;
const MOST = 3;

/**
 * How far a feature is no more than what positions differ by, in doublings: 0 where it is twice their spread over its
 * width or more, 1 where it is as high as they scatter, 3 at most; undefined where no positions differ.
 *
 * An average over a few positions is calm and its features are wide, whoever makes them, so shape tells less of it than
 * of one curve. What it keeps by chance is a good part of the spread, however many there were near each other; what the
 * speaker makes is in all of them and need not be near the spread.
 */
export function withinSpread(feature: Feature, scene: Scene): number | undefined {
  const { spreadDb } = scene.input;
  if (!spreadDb) return undefined;
  const { levelDb, widthOctaves } = feature;
  const near = spreadsWithin(spreadDb, feature, scene, Math.max(LEAST_OCTAVES, widthOctaves / 2));
  const spread = Math.sqrt(near.reduce((sum, s) => sum + s * s, 0) / near.length);
  return clip(log2(Math.max(QUIET_DB, spread) / Math.abs(levelDb)) + 1, 0, MOST);
}
