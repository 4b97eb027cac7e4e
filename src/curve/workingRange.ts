import { log2 } from '../elementary/logarithm.js';
import { pow } from '../elementary/power.js';
import type { Curve, FrequencyRange } from './curve.js';
import { logGrid } from './logGrid.js';
import { medianSmooth } from './medianSmooth.js';
import { resampleToGrid } from './resampleToGrid.js';
import { sliceCurve } from './sliceCurve.js';

export interface WorkingRange {
  readonly range: FrequencyRange;
  /** The data end before the speaker does. */
  readonly lowCutByData: boolean;
  readonly highCutByData: boolean;
  /** Where the low end falls for good 10 dB below the mid band; absent where the data do not show it. */
  readonly cornerHz?: number;
  /** One or two sentences: what the ends were taken from. */
  readonly explanation: string;
}

const FALL_DB = 10;
const MID_BAND: FrequencyRange = { fromHz: 300, toHz: 3000 };
const SMOOTHING_OCTAVES = 1;
/** A stretch below the threshold counts as the end of the speaker from this width on … */
const FOR_GOOD_OCTAVES = 1;
/** … or from this width on where the data end within it. */
const AT_END_OCTAVES = 1 / 3;
const PER_OCTAVE = 48;

/**
 * The span in which a speaker plays: from where its response falls for good 10 dB below the mid band (the median of
 * 300 Hz to 3 kHz) to where it does so at the top, kept inside the data.
 *
 * Judged on the running median over an octave, so that neither a deep null nor a room resonance is taken for an
 * end. "For good" means over a whole octave, or down to the end of the data over at least a third of one: rumble
 * below the speaker's range does not bring it back. A measurement that holds little or nothing of the mid band
 * (a woofer alone) is held against the median of the upper half of its levels instead.
 */
export function workingRange(curve: Curve): WorkingRange {
  const firstHz = curve.frequencyHz[0]!;
  const lastHz = curve.frequencyHz[curve.frequencyHz.length - 1]!;
  const grid = logGrid(firstHz, lastHz, PER_OCTAVE);
  if (grid.length < PER_OCTAVE) return wholeData(firstHz, lastHz);
  const trend = medianSmooth(resampleToGrid(curve, grid), SMOOTHING_OCTAVES);
  const mid = midBand(trend);
  const thresholdDb = mid.levelDb - FALL_DB;
  const lowHz = lowerEnd(trend, mid.index, thresholdDb);
  const highHz = upperEnd(trend, mid.index, thresholdDb);
  const range = { fromHz: lowHz ?? firstHz, toHz: highHz ?? lastHz };
  const end = (hz: number | undefined, dataHz: number, side: string) =>
    hz === undefined
      ? `${side} end ${round(dataHz)} Hz, where the data end`
      : `${side} end ${round(hz)} Hz, where it falls for good ${FALL_DB} dB below the ${mid.name}`;
  return {
    range,
    lowCutByData: lowHz === undefined,
    highCutByData: highHz === undefined,
    ...(lowHz !== undefined && { cornerHz: lowHz }),
    explanation: `Found from the curve: ${end(lowHz, firstHz, 'lower')}; ${end(highHz, lastHz, 'upper')}.`,
  };
}

/** Less than an octave shows no ends. */
function wholeData(fromHz: number, toHz: number): WorkingRange {
  return {
    range: { fromHz, toHz },
    lowCutByData: true,
    highCutByData: true,
    explanation: `The data cover less than an octave, ${round(fromHz)} to ${round(toHz)} Hz; all of it was taken.`,
  };
}

/** The level that the ends are held against, and the index of a point that surely lies in the band. */
function midBand(trend: Curve): { levelDb: number; index: number; name: string } {
  const band = sliceCurve(trend, MID_BAND);
  const wholeBand = band.frequencyHz.length >= PER_OCTAVE;
  const levels = wholeBand ? band.levelDb : upperHalf(trend.levelDb);
  const levelDb = median(levels);
  const candidates = wholeBand ? band : trend;
  // Nearest in level to the median, so that the search outward starts above the threshold.
  let nearest = 0;
  candidates.levelDb.forEach((l, i) => {
    if (Math.abs(l - levelDb) < Math.abs(candidates.levelDb[nearest]! - levelDb)) nearest = i;
  });
  const index = trend.frequencyHz.indexOf(candidates.frequencyHz[nearest]!);
  return { levelDb, index, name: wholeBand ? 'mid band' : 'loud part of the curve' };
}

function lowerEnd(trend: Curve, start: number, thresholdDb: number): number | undefined {
  const { frequencyHz, levelDb } = trend;
  return endOf(frequencyHz.slice(0, start + 1).reverse(), levelDb.slice(0, start + 1).reverse(), thresholdDb);
}

function upperEnd(trend: Curve, start: number, thresholdDb: number): number | undefined {
  return endOf(trend.frequencyHz.slice(start), trend.levelDb.slice(start), thresholdDb);
}

/** Walks outward from the mid band; the first crossing below the threshold that is for good. */
function endOf(frequencyHz: Float64Array, levelDb: Float64Array, thresholdDb: number): number | undefined {
  let crossing: number | undefined;
  for (let i = 1; i < levelDb.length; i++) {
    if (levelDb[i]! >= thresholdDb) {
      crossing = undefined;
      continue;
    }
    if (crossing === undefined) {
      const t = (levelDb[i - 1]! - thresholdDb) / (levelDb[i - 1]! - levelDb[i]!);
      crossing = frequencyHz[i - 1]! * pow(frequencyHz[i]! / frequencyHz[i - 1]!, t);
    }
    const octaves = Math.abs(log2(frequencyHz[i]! / crossing));
    const atEnd = i === levelDb.length - 1;
    if (octaves >= FOR_GOOD_OCTAVES || (atEnd && octaves >= AT_END_OCTAVES)) return crossing;
  }
  return undefined;
}

function median(values: Float64Array): number {
  const sorted = values.slice().sort();
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}

function upperHalf(values: Float64Array): Float64Array {
  return values
    .slice()
    .sort()
    .slice(values.length >> 1);
}

const round = (hz: number): number => Number(hz.toPrecision(3));
