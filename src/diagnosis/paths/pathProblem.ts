import type { Curve, FrequencyRange } from '../../curve/curve.js';
import { lowerIndex } from '../../curve/lowerIndex.js';
import { log2 } from '../../elementary/logarithm.js';
import { condense } from '../features/condense.js';
import { noiseProfile } from '../features/noiseProfile.js';
import { speakerWhitener, type Whitener } from '../speaker/speakerPrior.js';
import { type PathGrid, pathGrid } from './pathModel.js';

/** A curve, the grid it stands on, and what is held probable of the speaker's own part of it. */
export interface PathProblem {
  readonly levelDb: Float64Array;
  readonly whitener: Whitener;
  readonly grid: PathGrid;
}

/** Where reflections are strong enough and far enough apart to be told from one another. */
const SPAN: FrequencyRange = { fromHz: 40, toHz: 2500 };
/** Fewer points than an octave's say nothing of reflections. */
const LEAST_POINTS = 48;
/**
 * The speaker's own: wide swings (baffle, box, tilt) and resonances. Sizes as of finished speakers, common practice,
 * no published source.
 */
const SPEAKER_RIPPLES = [
  { sigmaDb: 2.5, widthOctaves: 1.4 },
  { sigmaDb: 0.6, widthOctaves: 0.35 },
];
const RIPPLE_OCTAVES = 0.045;
const COARSE_BELOW_HZ = 500;

/** The part of a curve in which reflections are looked for; nothing where that is too short. */
export function pathProblem(
  curve: Curve,
  range: FrequencyRange,
  speedOfSoundMs: number,
): PathProblem | undefined {
  const from = curve.frequencyHz.findIndex((f) => f >= Math.max(SPAN.fromHz, range.fromHz));
  const to = curve.frequencyHz.findLastIndex((f) => f <= Math.min(SPAN.toHz, range.toHz));
  if (from < 0 || to - from < LEAST_POINTS) return undefined;
  const span = {
    frequencyHz: curve.frequencyHz.slice(from, to + 1),
    levelDb: curve.levelDb.slice(from, to + 1),
  };
  const noise = noiseProfile(span.frequencyHz.map(log2), span.levelDb);
  const { frequencyHz, levelDb } = condense(span, COARSE_BELOW_HZ);
  const at = frequencyHz.map((f) => Math.max(0, lowerIndex(span.frequencyHz, f)));
  const middle = levelDb[levelDb.length >> 1]!;
  const whitener = speakerWhitener(frequencyHz.map(log2), {
    ripples: [
      ...SPEAKER_RIPPLES,
      { sigmaDb: at.map((i) => noise.rippleDb[i]!), widthOctaves: RIPPLE_OCTAVES },
    ],
    noiseDb: at.map((i, k) => noise.pointDb[i]! / (frequencyHz[k]! < COARSE_BELOW_HZ ? Math.SQRT2 : 1)),
  });
  return { levelDb: levelDb.map((l) => l - middle), whitener, grid: pathGrid(frequencyHz, speedOfSoundMs) };
}
