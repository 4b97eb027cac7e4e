import { log2 } from '../../elementary/logarithm.js';
import { pow } from '../../elementary/power.js';

/** A peak or dip of a curve against its trend, before anything is known of its cause. */
export interface Feature {
  readonly kind: 'peak' | 'dip';
  /** A narrow dip that is one between the flanks beside it, wherever the trend runs: all heights are over the lower flank. */
  readonly betweenFlanks?: true;
  /** Index of the extremum on the grid. */
  readonly index: number;
  readonly frequencyHz: number;
  /** Signed height over the trend. */
  readonly levelDb: number;
  /** Between the points of half the height. */
  readonly widthOctaves: number;
  /** How far the extremum stands out against the lower of the two passes beside it, ≥ 0. */
  readonly prominenceDb: number;
  readonly fromHz: number;
  readonly toHz: number;
}

/** What makes heights of peaks and depths of dips positive alike. */
export const signOf = ({ kind }: Pick<Feature, 'kind'>): 1 | -1 => (kind === 'peak' ? 1 : -1);

export interface FeatureOptions {
  /** Least height over the trend, in dB. */
  readonly minHeightDb: number;
  /** Least prominence, in dB. */
  readonly minProminenceDb: number;
}

/**
 * Peaks and dips of `heightDb`, the smoothed level minus the trend, ascending in frequency.
 *
 * An extremum counts when it is high enough over the trend and stands out enough against its neighbours of the same
 * sign (topographic prominence), so that ripple on the flank of a larger feature is not counted again.
 */
export function detectFeatures(
  frequencyHz: Float64Array,
  heightDb: Float64Array,
  { minHeightDb, minProminenceDb }: FeatureOptions,
): Feature[] {
  const features: Feature[] = [];
  for (const kind of ['peak', 'dip'] as const) {
    const sign = kind === 'peak' ? 1 : -1;
    const h = heightDb.map((v) => sign * v);
    for (let i = 1; i < h.length - 1; i++) {
      if (h[i]! < minHeightDb || h[i]! < h[i - 1]! || h[i]! <= h[i + 1]!) continue;
      const prominenceDb = h[i]! - Math.max(pass(h, i, -1), pass(h, i, 1));
      if (prominenceDb < minProminenceDb) continue;
      const from = halfHeight(frequencyHz, h, i, -1);
      const to = halfHeight(frequencyHz, h, i, 1);
      features.push({
        kind,
        index: i,
        frequencyHz: vertexHz(frequencyHz, h, i),
        levelDb: sign * h[i]!,
        widthOctaves: log2(to / from),
        prominenceDb,
        fromHz: from,
        toHz: to,
      });
    }
  }
  return features.sort((a, b) => a.frequencyHz - b.frequencyHz);
}

/** The lowest value between the extremum and the next higher ground on one side; 0 (the trend) at least. */
function pass(h: Float64Array, index: number, step: 1 | -1): number {
  let lowest = h[index]!;
  for (let i = index + step; i >= 0 && i < h.length; i += step) {
    lowest = Math.min(lowest, h[i]!);
    if (h[i]! > h[index]!) return Math.max(0, lowest);
  }
  return 0;
}

/** Where the height has fallen to half, going from the extremum; or the pass to a neighbour, or the end of the data. */
function halfHeight(frequencyHz: Float64Array, h: Float64Array, index: number, step: 1 | -1): number {
  const half = h[index]! / 2;
  let lowestAt = index;
  for (let i = index + step; i >= 0 && i < h.length; i += step) {
    if (h[i]! <= half) {
      const t = (h[i - step]! - half) / (h[i - step]! - h[i]!);
      return frequencyHz[i - step]! * pow(frequencyHz[i]! / frequencyHz[i - step]!, t);
    }
    if (h[i]! < h[lowestAt]!) lowestAt = i;
    if (h[i]! > h[index]!) return frequencyHz[lowestAt]!;
  }
  return frequencyHz[step < 0 ? 0 : h.length - 1]!;
}

/** Top of the parabola through an extremum and its neighbours, on log frequency. */
function vertexHz(frequencyHz: Float64Array, h: Float64Array, i: number): number {
  const bend = h[i - 1]! - 2 * h[i]! + h[i + 1]!;
  const shift = bend < 0 ? (h[i - 1]! - h[i + 1]!) / (2 * bend) : 0;
  const ratio = frequencyHz[i + 1]! / frequencyHz[i]!;
  return frequencyHz[i]! * pow(ratio, Math.min(0.5, Math.max(-0.5, shift)));
}
