import type { Feature } from '../features/detectFeatures.js';
import type { Scene } from '../scene/scene.js';
import { directEvidence } from './directEvidence.js';
import type { Evidence } from './evidence.js';
import { laterEvidence } from './laterEvidence.js';
import { movedEvidence } from './movedEvidence.js';
import { phaseEvidence } from './phaseEvidence.js';
import { reflectionEvidence, reflectionShare } from './reflectionEvidence.js';
import { shapeEvidence } from './shapeEvidence.js';
import { spreadEvidence } from './spreadEvidence.js';
import { timeEvidence } from './timeEvidence.js';

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
    laterEvidence(dip, scene),
    curveAlone(scene),
  ].filter((e) => e !== undefined);
}

function curveAlone({ input }: Scene): Evidence | undefined {
  const { setup, moved, spreadDb, reflections, direct } = input;
  const alone = !setup?.surfaces.length && !moved?.length && !spreadDb && !reflections && !direct;
  return alone ? { label: 'nothing but one curve', terms: [{ name: 'curveAlone', value: 1 }] } : undefined;
}
