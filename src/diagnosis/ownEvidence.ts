import { log2 } from '../elementary/logarithm.js';
import { clip } from './clip.js';
import { detectFeatures, type Feature } from './detectFeatures.js';
import type { OwnWeightName } from './ownWeights.js';
import { type Scene, SURROUNDINGS_OCTAVES } from './scene.js';
import { windowMean } from './windowMean.js';

const AROUND_OCTAVES = 1;
/** A dip that stands out by this share of another's prominence is its company; beyond the second figure all are deep. */
const LIKE_SHARE = 0.5;
const DEEP_DB = 4;
/** Members of a comb are equally wide in hertz: what is narrower than this share of a dip is no company of it. */
const WIDE_SHARE = 0.5;
/** Fewer octaves than this around a dip say little of its company. */
const LEAST_OCTAVES = 0.3;
/** Finer than this each way, a swing counts as ripple. */
const RIPPLE_OCTAVES = SURROUNDINGS_OCTAVES / 3;
const LEAST_RIPPLE_DB = 0.3;

/** What speaks for or against a dip being the speaker's own. */
export interface OwnEvidence {
  readonly terms: readonly {
    readonly name: OwnWeightName;
    readonly label: string;
    readonly value: number;
  }[];
  readonly sentence: string;
}

/**
 * Whether a dip looks like the speaker's own, whatever else would make it. What is heard later than a few milliseconds
 * makes dips of one width in hertz, one beside the other, so narrow and in company; a speaker's resonances are as wide
 * as they are damped, few, and stand alone. That holds with no set-up, and where no single path can be made out.
 *
 * @param placementLogOdds for the placement, all evidence together
 */
export function ownEvidence(dip: Feature, scene: Scene, placementLogOdds: number): OwnEvidence {
  const alike = dipsAlike(dip, scene);
  const { low, high } = spanAround(dip, scene);
  const octaves = Math.max(LEAST_OCTAVES, high - low - Math.min(dip.widthOctaves, AROUND_OCTAVES / 2));
  const ripple = Math.max(LEAST_RIPPLE_DB, rippleAround(dip, scene));
  return {
    sentence:
      alike === 0
        ? 'No other dip like it lies within an octave: a speaker has such, reflections seldom leave one alone.'
        : `${alike} other ${alike === 1 ? 'dip' : 'dips'} like it within an octave: reflections make dips side by side, a speaker's own mostly stand alone.`,
    terms: [
      { name: 'outset', label: 'at the outset', value: 1 },
      { name: 'width', label: 'its width', value: clip(log2(dip.widthOctaves / 0.2), -2, 2.5) },
      { name: 'height', label: 'its frequency', value: clip(log2(dip.frequencyHz / 1000), -3, 2) },
      { name: 'company', label: 'dips beside it', value: clip(alike / octaves, 0, 4) },
      { name: 'standsOut', label: 'how it stands out', value: clip(-dip.levelDb / ripple, 0, 8) },
      { name: 'placement', label: 'against the placement', value: clip(placementLogOdds, -6, 4) },
    ],
  };
}

function spanAround({ index }: Feature, { octave, input }: Scene): { low: number; high: number } {
  return {
    low: Math.max(octave[index]! - AROUND_OCTAVES, log2(input.range.fromHz)),
    high: Math.min(octave[index]! + AROUND_OCTAVES, log2(input.range.toHz)),
  };
}

function dipsAlike(dip: Feature, scene: Scene): number {
  const { octave, frequencyHz, heightDb } = scene;
  const { low, high } = spanAround(dip, scene);
  const minProminenceDb = LIKE_SHARE * Math.min(dip.prominenceDb, DEEP_DB);
  return detectFeatures(frequencyHz, heightDb, { minHeightDb: 0, minProminenceDb }).filter(
    ({ kind, index, fromHz, toHz }) =>
      kind === 'dip' &&
      index !== dip.index &&
      toHz - fromHz >= WIDE_SHARE * (dip.toHz - dip.fromHz) &&
      octave[index]! >= low &&
      octave[index]! <= high,
  ).length;
}

/** RMS of what is finer than half an octave, the dip itself and its flanks left out. */
function rippleAround(dip: Feature, scene: Scene): number {
  const { octave, measured } = scene;
  const { low, high } = spanAround(dip, scene);
  const coarse = windowMean(octave, measured.levelDb, RIPPLE_OCTAVES);
  const own = Math.max(1 / 6, dip.widthOctaves);
  let sum = 0;
  let count = 0;
  for (let i = 0; i < octave.length; i++) {
    if (octave[i]! < low || octave[i]! > high || Math.abs(octave[i]! - octave[dip.index]!) < own) continue;
    sum += (measured.levelDb[i]! - coarse[i]!) ** 2;
    count++;
  }
  return count > 0 ? Math.sqrt(sum / count) : 0;
}
