import type { FrequencyRange } from '../../curve/curve.js';
import { interpolateLevel } from '../../curve/interpolateLevel.js';
import { isInside } from '../../curve/isInside.js';
import { octaveWeights } from '../../curve/octaveWeights.js';
import { weightedMean } from '../../curve/weightedMean.js';
import { pow2 } from '../../elementary/exponential.js';
import { log2 } from '../../elementary/logarithm.js';
import { bridgeDips, bridgesOver, type ZoneAsked } from './bridgeDips.js';
import type { FitLimits, FitProblem } from './fitProblem.js';

/** In a protected zone the EQ rises no further than this, or than its edges need where it may follow them … */
const ZONE_RISE_DB = 0.5;
/** … and falls no further than this below the lower of its edges: no deep cut may hide where no error counts. */
const ZONE_FALL_DB = 1;
/** The line that stands for a dip weighs so little beside true error: enough to say where the EQ goes where all else is one. */
const BRIDGE_WEIGHT = 0.03;
/** Below `boostFromHz` the cap falls from the greatest boost to `ZONE_RISE_DB` within this many octaves. */
const SKIRT_OCTAVES = 0.5;
const CAP_POINTS_PER_OCTAVE = 12;
const LOWEST_CAP_HZ = 5;

/**
 * Puts a curve, what it should be, and what must be left alone into the form that the optimizer takes.
 *
 * @param frequencyHz grid over the range, n points
 * @param range where the range ends, if not at the ends of the grid
 * @param deviationDb measurement minus target shape, n points
 * @param zones spans that the EQ leaves alone and whose error does not count. Where it `mayFollow`, it sees the curve as if
 * there were no dip, and rises as far as the edges need
 * @param boostFromHz below it nothing is boosted
 */
export function buildProblem(input: {
  readonly sampleRateHz: number;
  readonly frequencyHz: Float64Array;
  readonly range?: FrequencyRange;
  readonly deviationDb: Float64Array;
  readonly zones: readonly ZoneAsked[];
  readonly boostFromHz?: number;
  readonly levelDb?: number;
  readonly limits: FitLimits;
}): FitProblem {
  const { frequencyHz, sampleRateHz, zones, boostFromHz, limits } = input;
  const bridges = bridgesOver(zones, frequencyHz);
  const deviationDb = bridgeDips(frequencyHz, input.deviationDb, bridges);
  const octave = octaveWeights(frequencyHz);
  const counted = frequencyHz.map((hz, i) => (isInside(hz, zones) ? 0 : octave[i]!));
  const weight = counted.map((w, i) => (isInside(frequencyHz[i]!, bridges) ? BRIDGE_WEIGHT * octave[i]! : w));
  const aboutDb = input.levelDb ?? weightedMean(deviationDb, counted);
  const needDb = (hz: number) => aboutDb - interpolateLevel({ frequencyHz, levelDb: deviationDb }, hz);
  const maxRiseDb = ({ fromHz }: FrequencyRange) => {
    const edgesHz = bridges.find((bridge) => bridge.fromHz === fromHz)?.edgesHz ?? [];
    return Math.max(ZONE_RISE_DB, Math.min(limits.maxBoostDb, Math.max(0, ...edgesHz.map(needDb))));
  };
  const capFrequencyHz = capGrid(sampleRateHz, kneesOf(boostFromHz));
  return {
    sampleRateHz,
    frequencyHz,
    ...(input.range && { range: input.range }),
    deviationDb,
    weight,
    capFrequencyHz,
    capDb: capFrequencyHz.map((hz) => capAtHz(hz, limits.maxBoostDb, boostFromHz)),
    zones: zones.map((zone) => ({
      fromHz: zone.fromHz,
      toHz: zone.toHz,
      maxRiseDb: maxRiseDb(zone),
      maxFallDb: ZONE_FALL_DB,
    })),
    ...(input.levelDb !== undefined && { levelDb: input.levelDb }),
    limits,
  };
}

/** Where the cap bends: between two points of its grid the line would run above it. */
function kneesOf(boostFromHz: number | undefined): number[] {
  return boostFromHz === undefined ? [] : [boostFromHz * pow2(-SKIRT_OCTAVES), boostFromHz];
}

function capGrid(sampleRateHz: number, kneesHz: readonly number[]): Float64Array {
  const nyquist = sampleRateHz / 2;
  const count = Math.floor(log2(nyquist / LOWEST_CAP_HZ) * CAP_POINTS_PER_OCTAVE);
  const even = Array.from({ length: count + 1 }, (_, i) => LOWEST_CAP_HZ * pow2(i / CAP_POINTS_PER_OCTAVE));
  const within = kneesHz.filter((hz) => hz > LOWEST_CAP_HZ && hz < nyquist);
  return Float64Array.from(new Set([...even, ...within, nyquist])).sort();
}

function capAtHz(hz: number, maxBoostDb: number, boostFromHz: number | undefined): number {
  if (boostFromHz === undefined || hz >= boostFromHz) return maxBoostDb;
  const floor = Math.min(ZONE_RISE_DB, maxBoostDb);
  const below = log2(boostFromHz / hz) / SKIRT_OCTAVES;
  return Math.max(floor, maxBoostDb - below * (maxBoostDb - floor));
}
