import { detectFeatures, type Feature } from './detectFeatures.js';
import { directEvidence } from './directEvidence.js';
import type { Evidence } from './evidence.js';
import { movedEvidence } from './movedEvidence.js';
import { phaseEvidence } from './phaseEvidence.js';
import { reflectionEvidence, reflectionShare } from './reflectionEvidence.js';
import type { Scene } from './scene.js';
import { shapeEvidence } from './shapeEvidence.js';
import { spreadEvidence } from './spreadEvidence.js';
import { timeEvidence } from './timeEvidence.js';

const LEAST_HEIGHT_DB = 1;
const LEAST_PROMINENCE_DB = 0.8;

/** Peaks and dips within the range. */
export function findFeatures({ input, frequencyHz, heightDb }: Scene): Feature[] {
  const { fromHz, toHz } = input.range;
  return detectFeatures(frequencyHz, heightDb, {
    minHeightDb: LEAST_HEIGHT_DB,
    minProminenceDb: LEAST_PROMINENCE_DB,
  }).filter((f) => f.frequencyHz >= fromHz && f.frequencyHz <= toHz);
}

/** All that speaks for or against a dip being the placement's. */
export function dipEvidence(dip: Feature, scene: Scene, share = reflectionShare(dip, scene)): Evidence[] {
  return [
    shapeEvidence(dip, scene),
    ...(share ? reflectionEvidence(share, scene) : []),
    movedEvidence(dip, scene, share),
    spreadEvidence(dip, scene),
    phaseEvidence(dip, scene),
    timeEvidence(dip, scene),
    directEvidence(dip, scene),
    curveAlone(scene),
  ].filter((e) => e !== undefined);
}

function curveAlone({ input }: Scene): Evidence | undefined {
  const { setup, moved, spreadDb, reflections, direct } = input;
  const alone = !setup?.surfaces.length && !moved?.length && !spreadDb && !reflections && !direct;
  return alone ? { label: 'nothing but one curve', terms: [{ name: 'curveAlone', value: 1 }] } : undefined;
}
