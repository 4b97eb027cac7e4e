import { log2 } from '../../elementary/logarithm.js';
import { clip } from '../features/clip.js';
import { detectFeatures, type Feature } from '../features/detectFeatures.js';
import { windowMean } from '../features/windowMean.js';
import { heightsFor, type Scene } from '../scene/scene.js';
import type { OwnWeightName } from './ownWeights.js';
import { roughnessAround } from './roughnessAround.js';
import { calmedBySmoothing } from './smoothedAway.js';

const AROUND_OCTAVES = 1;
/** A dip that stands out by this share of another's prominence is its company; beyond the second figure all are deep. */
const LIKE_SHARE = 0.5;
const DEEP_DB = 4;
/** Members of a comb are equally wide in hertz: what is narrower than this share of a dip, or as much wider, is no company of it. */
const WIDE_SHARE = 0.5;
const COMPANY_WIDTHS = 16;
/** Finer than this each way, a swing counts as ripple. */
const RIPPLE_OCTAVES = 1 / 12;
const LEAST_RIPPLE_DB = 0.001;
/** So far on either side a curve's heights tell how much of it reflections make. */
const ROUGH_OCTAVES = 2;
const LEAST_ROUGHNESS_DB = 0.1;
/** Fewer points than these around a dip say nothing of ripple. */
const LEAST_POINTS = 5;

/** What speaks for or against a dip being the speaker's own. */
export interface OwnEvidence {
  readonly terms: readonly {
    readonly name: OwnWeightName;
    readonly label: string;
    readonly value: number;
  }[];
  readonly sentence: string;
  /** Other dips as wide in hertz near it. */
  readonly alike: number;
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
  return {
    alike,
    sentence:
      alike === 0
        ? `No other ${dip.kind} as wide in hertz lies near it: a speaker has such, reflections seldom leave one alone.`
        : `${alike} other ${alike === 1 ? dip.kind : `${dip.kind}s`} as wide in hertz near it: reflections make ${dip.kind}s side by side, a speaker's own mostly stand alone.`,
    terms: [
      { name: 'outset', label: 'at the outset', value: 1 },
      { name: 'width', label: 'its width', value: clip(log2(dip.widthOctaves / 0.2), -2, 2.5) },
      { name: 'height', label: 'its frequency', value: clip(log2(dip.frequencyHz / 1000), -3, 2) },
      { name: 'company', label: `${dip.kind}s beside it`, value: Math.min(alike, 5) },
      { name: 'calm', label: 'the calm around it', value: calmAround(dip, scene) },
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

/** Dips about as wide in hertz, within sixteen such widths on either side: members of a comb lie about two apart. */
function dipsAlike(dip: Feature, scene: Scene): number {
  const { frequencyHz, input } = scene;
  const widthHz = dip.toHz - dip.fromHz;
  const minProminenceDb = LIKE_SHARE * Math.min(dip.prominenceDb, DEEP_DB);
  const fromHz = Math.max(input.range.fromHz, dip.frequencyHz - COMPANY_WIDTHS * widthHz);
  const toHz = Math.min(input.range.toHz, dip.frequencyHz + COMPANY_WIDTHS * widthHz);
  return detectFeatures(frequencyHz, heightsFor(dip, scene), { minHeightDb: 0, minProminenceDb }).filter(
    (other) =>
      other.kind === dip.kind &&
      other.index !== dip.index &&
      other.toHz - other.fromHz >= WIDE_SHARE * widthHz &&
      other.toHz - other.fromHz <= widthHz / WIDE_SHARE &&
      other.frequencyHz >= fromHz &&
      other.frequencyHz <= toHz,
  ).length;
}

/**
 * How small beside the dip is what is finer than a sixth of an octave around it, the dip and its flanks left out. Later
 * sound leaves ripple everywhere, not in one place; 0 where there is too little around to tell.
 */
function calmAround(dip: Feature, scene: Scene): number {
  const { octave, measured } = scene;
  const { low, high } = spanAround(dip, scene);
  // The fit of the weights saw no such curves; a calm that says nothing counts neither way.
  const most = calmedBySmoothing(scene) ? 0 : 4;
  const coarse = windowMean(octave, measured.levelDb, RIPPLE_OCTAVES);
  const own = Math.max(1 / 6, dip.widthOctaves);
  let sum = 0;
  let count = 0;
  for (let i = 0; i < octave.length; i++) {
    if (octave[i]! < low || octave[i]! > high || Math.abs(octave[i]! - octave[dip.index]!) < own) continue;
    sum += (measured.levelDb[i]! - coarse[i]!) ** 2;
    count++;
  }
  if (count < LEAST_POINTS) return 0;
  const ripple = Math.max(LEAST_RIPPLE_DB, Math.sqrt(sum / count));
  return clip(log2(Math.abs(dip.levelDb) / (10 * ripple)), -2, most);
}

/**
 * How high a curve's swings are for two octaves around, as log2 over 1 dB. Reflections are one fact of the whole curve: where they
 * swing it there, they do here. What they make below a few kilohertz is wider than what `calmAround` counts as ripple, and
 * above, smoothing makes of them what is neither in company nor as wide as their comb. A smoothed curve's calm counts for nobody.
 */
export function roughAround(feature: Feature, scene: Scene): number {
  const roughDb = roughnessAround(feature, scene, ROUGH_OCTAVES, scene.input.range);
  const rough = log2(Math.max(LEAST_ROUGHNESS_DB, roughDb));
  return calmedBySmoothing(scene) ? Math.max(0, rough) : rough;
}
