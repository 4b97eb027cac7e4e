import type { FrequencyRange } from '../curve/curve.js';
import { interpolateLevel } from '../curve/interpolateLevel.js';
import { octaveWeights } from '../curve/octaveWeights.js';
import type { FitLimits, FitProblem } from './fitProblem.js';

/** In a protected zone the EQ rises no further than this, or than its edges need where it may follow them … */
const ZONE_RISE_DB = 0.5;
/** … and falls no further than this below the lower of its edges: no deep cut may hide where no error counts. */
const ZONE_FALL_DB = 1;
/** Below `boostFromHz` the cap falls from the greatest boost to `ZONE_RISE_DB` within this many octaves. */
const SKIRT_OCTAVES = 0.5;
const CAP_POINTS_PER_OCTAVE = 12;
const LOWEST_CAP_HZ = 5;

/**
 * Puts a curve, what it should be, and what must be left alone into the form that the optimizer takes.
 *
 * @param frequencyHz grid over the range, n points
 * @param deviationDb measurement minus target shape, n points
 * @param zones spans that the EQ leaves alone and whose error does not count; where it `mayFollow`, it rises as far as those of
 * its edges need that lie amid the range and outside all other zones
 * @param boostFromHz below it nothing is boosted
 */
export function buildProblem(input: {
  readonly sampleRateHz: number;
  readonly frequencyHz: Float64Array;
  readonly deviationDb: Float64Array;
  readonly zones: readonly (FrequencyRange & { readonly mayFollow?: boolean })[];
  readonly boostFromHz?: number;
  readonly levelDb?: number;
  readonly limits: FitLimits;
}): FitProblem {
  const { frequencyHz, deviationDb, sampleRateHz, zones, boostFromHz, limits } = input;
  const octave = octaveWeights(frequencyHz);
  const weight = frequencyHz.map((hz, i) => (isInside(hz, zones) ? 0 : octave[i]!));
  const aboutDb = input.levelDb ?? weightedMean(deviationDb, weight);
  const needDb = (hz: number) => aboutDb - interpolateLevel({ frequencyHz, levelDb: deviationDb }, hz);
  const isAmid = (hz: number) => hz > frequencyHz[0]! && hz < frequencyHz.at(-1)!;
  const riseDb = ({ fromHz, toHz, mayFollow }: (typeof zones)[number]) => {
    const edges = mayFollow ? [fromHz, toHz].filter((hz) => isAmid(hz) && !isBetween(hz, zones)) : [];
    return Math.max(ZONE_RISE_DB, Math.min(limits.maxBoostDb, Math.max(0, ...edges.map(needDb))));
  };
  const capFrequencyHz = capGrid(sampleRateHz);
  return {
    sampleRateHz,
    frequencyHz,
    deviationDb,
    weight,
    capFrequencyHz,
    capDb: capFrequencyHz.map((hz) => capAtHz(hz, limits.maxBoostDb, boostFromHz)),
    zones: zones.map((zone) => ({
      fromHz: zone.fromHz,
      toHz: zone.toHz,
      maxRiseDb: riseDb(zone),
      maxFallDb: ZONE_FALL_DB,
    })),
    ...(input.levelDb !== undefined && { levelDb: input.levelDb }),
    limits,
  };
}

export function isInside(hz: number, zones: readonly FrequencyRange[]): boolean {
  return zones.some((zone) => hz >= zone.fromHz && hz <= zone.toHz);
}

/** Where two zones touch, their common edge is inside both. */
function isBetween(hz: number, zones: readonly FrequencyRange[]): boolean {
  return zones.filter((zone) => hz >= zone.fromHz && hz <= zone.toHz).length > 1;
}

function weightedMean(values: Float64Array, weights: Float64Array): number {
  const total = weights.reduce((sum, w) => sum + w, 0);
  return total > 0 ? values.reduce((sum, v, i) => sum + weights[i]! * v, 0) / total : 0;
}

function capGrid(sampleRateHz: number): Float64Array {
  const nyquist = sampleRateHz / 2;
  const count = Math.floor(Math.log2(nyquist / LOWEST_CAP_HZ) * CAP_POINTS_PER_OCTAVE);
  return Float64Array.from({ length: count + 2 }, (_, i) =>
    i > count ? nyquist : LOWEST_CAP_HZ * 2 ** (i / CAP_POINTS_PER_OCTAVE),
  );
}

function capAtHz(hz: number, maxBoostDb: number, boostFromHz: number | undefined): number {
  if (boostFromHz === undefined || hz >= boostFromHz) return maxBoostDb;
  const floor = Math.min(ZONE_RISE_DB, maxBoostDb);
  const below = Math.log2(boostFromHz / hz) / SKIRT_OCTAVES;
  return Math.max(floor, maxBoostDb - below * (maxBoostDb - floor));
}
