import { clip } from './clip.js';
import type { Feature } from './detectFeatures.js';
import type { Evidence } from './evidence.js';
import type { Scene } from './scene.js';

/** A dip within this share of the frequency counts as still in its place. */
const SAME_PLACE = 0.02;
/** How far away a dip is looked for that may be the same one, moved. */
const SEARCH = 0.35;
const LEAST_DEPTH_DB = 1.5;

/** What became of a dip in one other placement. */
export interface MovedDip {
  /** What is left of its depth in its old place: 1 all, 0 nothing. */
  readonly remaining: number;
  /** Where the nearest dip of like depth is now, over where it was; absent where there is none. */
  readonly ratio?: number;
}

export function movedDips(dip: Feature, { frequencyHz, measured, moved }: Scene): MovedDip[] {
  const depthDb = Math.max(0.5, -measured.localDb[dip.index]!);
  return moved.map(({ localDb }) => {
    let left = 0;
    let ratio: number | undefined;
    let nearest = Number.POSITIVE_INFINITY;
    for (let i = 1; i < frequencyHz.length - 1; i++) {
      const off = frequencyHz[i]! / dip.frequencyHz;
      const away = Math.abs(Math.log(off));
      const depth = -localDb[i]!;
      if (away < SAME_PLACE) left = Math.max(left, depth);
      const bottom = depth > -localDb[i - 1]! && depth >= -localDb[i + 1]!;
      if (bottom && depth > Math.max(LEAST_DEPTH_DB, 0.5 * depthDb) && away < SEARCH && away < nearest) {
        nearest = away;
        ratio = off;
      }
    }
    return { remaining: clip(left / depthDb, 0, 1.2), ...(ratio !== undefined && { ratio }) };
  });
}

/** What stays where it is belongs to the speaker; what moves or vanishes belongs to the placement. */
export function movedEvidence(dip: Feature, scene: Scene): Evidence | undefined {
  const dips = movedDips(dip, scene);
  if (dips.length === 0) return undefined;
  // A placement that left the guilty surface where it was keeps the dip: the one that changed most counts.
  const least = dips.reduce((a, b) => (b.remaining < a.remaining ? b : a));
  return {
    label: 'the other placement',
    terms: [{ name: 'stayed', value: least.remaining - 0.5 }],
    sentence: sentenceFor(least, dip.frequencyHz),
  };
}

function sentenceFor({ remaining, ratio }: MovedDip, hz: number): string {
  const percent = Math.round(100 * Math.min(1, remaining));
  if (remaining > 0.75) return `In the other placement it is still there (${percent} % of its depth at the same frequency): what stays is the speaker's.`;
  if (ratio !== undefined && Math.abs(Math.log(ratio)) > SAME_PLACE) {
    return `In the other placement it has moved to ${Math.round(hz * ratio)} Hz (${ratio.toFixed(2)} times the frequency): what moves is the placement's.`;
  }
  return `In the other placement only ${percent} % of it is left at this frequency: what goes away with the placement is the placement's.`;
}
