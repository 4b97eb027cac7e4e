import { log } from '../elementary/logarithm.js';
import { formatFrequency } from '../units/formatFrequency.js';
import { clip } from './clip.js';
import type { Feature } from './detectFeatures.js';
import type { Evidence } from './evidence.js';
import { type ReflectionShare, strongestNamed } from './reflectionEvidence.js';
import type { Scene } from './scene.js';

/** A dip within this share of the frequency counts as still in its place. */
const SAME_PLACE = 0.02;
/** How far away (in ln) a dip is looked for that may be the same one, moved. */
const SEARCH = 0.35;
const LEAST_DEPTH_DB = 1.5;
/** It is gone where no more than this share of its depth is left, and stayed where at least the second is. */
const GONE = 0.4;
const STAYED = 0.75;
/** A curve that is this smooth around a dip lets the comparison be trusted; twice as rough, little. */
const SMOOTH_DB = 0.6;

/** What became of a dip in one other placement. */
interface MovedDip {
  /** What is left of its depth in its old place: 1 all, 0 nothing. */
  readonly remaining: number;
  /** Where the nearest dip of like depth is now, over where it was; absent where there is none. */
  readonly ratio?: number;
}

function movedDips(dip: Feature, { frequencyHz, measured, moved }: Scene): MovedDip[] {
  const depthDb = Math.max(0.5, -measured.localDb[dip.index]!);
  return moved.map(({ localDb }) => {
    let left = 0;
    let ratio: number | undefined;
    let nearest = Number.POSITIVE_INFINITY;
    for (let i = 1; i < frequencyHz.length - 1; i++) {
      const off = frequencyHz[i]! / dip.frequencyHz;
      const away = Math.abs(log(off));
      const depth = -localDb[i]!;
      if (away < SAME_PLACE) left = Math.max(left, depth);
      const bottom = depth > -localDb[i - 1]! && depth >= -localDb[i + 1]!;
      if (bottom && depth > Math.max(LEAST_DEPTH_DB, 0.5 * depthDb) && away < SEARCH && away < nearest) {
        nearest = away;
        ratio = off;
      }
    }
    return { remaining: clip(left / depthDb, 0, 1), ...(ratio !== undefined && { ratio }) };
  });
}

/**
 * What stays where it is belongs to the speaker; what moves or vanishes belongs to the placement. A placement that
 * left the guilty surface where it was keeps the dip, so the one that changed most counts, and staying says the less
 * the better a surface of the set-up accounts for the dip.
 */
export function movedEvidence(
  dip: Feature,
  scene: Scene,
  share: ReflectionShare | undefined,
): Evidence | undefined {
  const dips = movedDips(dip, scene);
  if (dips.length === 0) return undefined;
  const least = dips.reduce((a, b) => (b.remaining < a.remaining ? b : a));
  const named = share && strongestNamed(share, scene);
  const accounted = clip((named?.lossDb ?? 0) / Math.max(1, -scene.measured.localDb[dip.index]!), 0, 1);
  // In a rough curve something else may have filled it, or put another dip in its place.
  const trust = 1 + 4 * (1 - clip((roughnessAround(dip, scene) - SMOOTH_DB) / SMOOTH_DB, 0, 1));
  return {
    label: 'the other placement',
    terms: [
      { name: 'gone', value: clip((GONE + 0.2 - least.remaining) / 0.2, 0, 1) * trust },
      { name: 'stayed', value: clip((least.remaining - STAYED) / 0.2, 0, 1) * (1 - accounted) * trust },
    ],
    sentence: sentenceFor(least, dip.frequencyHz, dips.length),
  };
}

/** RMS height of the octave on either side, the dip and its flanks left out. */
function roughnessAround({ index, widthOctaves }: Feature, { octave, heightDb }: Scene): number {
  let sum = 0;
  let count = 0;
  for (let i = 0; i < octave.length; i++) {
    const away = Math.abs(octave[i]! - octave[index]!);
    if (away > 1 + widthOctaves || away < widthOctaves) continue;
    sum += heightDb[i]! ** 2;
    count++;
  }
  return count > 0 ? Math.sqrt(sum / count) : 0;
}

function sentenceFor({ remaining, ratio }: MovedDip, hz: number, count: number): string {
  const at = formatFrequency(hz);
  const where = count === 1 ? 'the other placement' : `one of the ${count} other placements`;
  if (remaining >= STAYED) {
    return `It stays at ${at} when the speaker is moved (${Math.round(100 * remaining)} % of its depth is left): what stays is the speaker's, unless its surface stayed too.`;
  }
  if (remaining > GONE) return `In ${where} ${Math.round(100 * remaining)} % of it is left at ${at}.`;
  const now = ratio !== undefined && Math.abs(log(ratio)) > SAME_PLACE;
  return `It is gone from ${at} in ${where}${now ? ` and lies at ${formatFrequency(hz * ratio!)} there` : ''}: it moves with the placement.`;
}
