import type { FrequencyRange } from '../../src/curve/curve.js';
import type { Filter } from '../../src/filter/filter.js';
import type { FitLimits } from '../../src/fit/problem/fitProblem.js';

/**
 * Level of filters in series at one frequency, from the difference equation itself: the formulas of the W3C Group Note
 * "Audio EQ Cookbook" put into H(z) at z = e^(jω). Shares no line with `src/`.
 */
export function cookbookLevelDb(filters: readonly Filter[], sampleRateHz: number, hz: number): number {
  const w = (2 * Math.PI * hz) / sampleRateHz;
  return filters.reduce((sum, filter) => sum + oneLevelDb(filter, sampleRateHz, w), 0);
}

function oneLevelDb({ type, frequencyHz, gainDb, q }: Filter, sampleRateHz: number, w: number): number {
  const A = 10 ** (gainDb / 40);
  const w0 = (2 * Math.PI * frequencyHz) / sampleRateHz;
  const c = Math.cos(w0);
  const alpha = Math.sin(w0) / (2 * q);
  const s = 2 * Math.sqrt(A) * alpha;
  const [b, a] =
    type === 'peaking'
      ? [
          [1 + alpha * A, -2 * c, 1 - alpha * A],
          [1 + alpha / A, -2 * c, 1 - alpha / A],
        ]
      : type === 'lowShelf'
        ? [
            [A * (A + 1 - (A - 1) * c + s), 2 * A * (A - 1 - (A + 1) * c), A * (A + 1 - (A - 1) * c - s)],
            [A + 1 + (A - 1) * c + s, -2 * (A - 1 + (A + 1) * c), A + 1 + (A - 1) * c - s],
          ]
        : [
            [A * (A + 1 + (A - 1) * c + s), -2 * A * (A - 1 + (A + 1) * c), A * (A + 1 + (A - 1) * c - s)],
            [A + 1 - (A - 1) * c + s, 2 * (A - 1 - (A + 1) * c), A + 1 - (A - 1) * c - s],
          ];
  return 10 * Math.log10(power(b!, w) / power(a!, w));
}

/** |p0 + p1 e^(−jω) + p2 e^(−2jω)|² */
function power([p0, p1, p2]: readonly number[], w: number): number {
  const re = p0! + p1! * Math.cos(w) + p2! * Math.cos(2 * w);
  const im = p1! * Math.sin(w) + p2! * Math.sin(2 * w);
  return re * re + im * im;
}

/** Points from 5 Hz to half the sample rate, 300 an octave: off the optimizer's own grids. */
export function denseHz(sampleRateHz: number, fromHz = 5, toHz = sampleRateHz / 2): number[] {
  const steps = Math.ceil(Math.log2(toHz / fromHz) * 300);
  return Array.from({ length: steps + 1 }, (_, i) => fromHz * (toHz / fromHz) ** (i / steps));
}

/** Levels this close to a limit are the formulas' own rounding at low frequencies. */
const NOISE_DB = 1e-6;

/** Within half an octave the cap falls to its lower end. */
const SKIRT = 2 ** (1 / 2);

/** What a bank breaks, in words; empty where all holds. */
export function brokenLimits(
  filters: readonly Filter[],
  sampleRateHz: number,
  problem: {
    readonly range: FrequencyRange;
    readonly limits: FitLimits;
    readonly zones: readonly (FrequencyRange & { readonly maxRiseDb?: number | undefined })[];
    /** Below this, less half an octave of skirt, no more than 0.5 dB. */
    readonly boostFromHz?: number | undefined;
  },
): string[] {
  const { limits, zones, range, boostFromHz } = problem;
  const broken: string[] = [];
  const check = (name: string, value: number, atMost: number) => {
    if (!(value <= atMost + NOISE_DB)) broken.push(`${name}: ${value} above ${atMost}`);
  };
  check('bands', filters.length, limits.maxBands);
  filters.forEach(({ type, frequencyHz, gainDb, q }, i) => {
    check(`boost of ${i}`, gainDb, limits.maxBoostDb);
    check(`cut of ${i}`, -gainDb, limits.maxCutDb);
    check(`Q of ${i}`, q, limits.maxQ);
    check(`1/Q of ${i}`, 1 / q, 1 / limits.minQ);
    check(`frequency of ${i}`, frequencyHz, limits.maxFrequencyHz);
    check(`1/frequency of ${i}`, 1 / frequencyHz, 1 / limits.minFrequencyHz);
    if (!limits.types.includes(type)) broken.push(`type of ${i}: ${type}`);
  });
  const level = (hz: number) => cookbookLevelDb(filters, sampleRateHz, hz);
  for (const hz of denseHz(sampleRateHz)) {
    const db = level(hz);
    check(`sum at ${hz} Hz`, db, limits.maxBoostDb);
    if (boostFromHz !== undefined && hz < boostFromHz / SKIRT) {
      check(`sum at ${hz} Hz, below ${boostFromHz} Hz`, db, Math.min(0.5, limits.maxBoostDb) + 0.002);
    }
  }
  for (const { fromHz, toHz, maxRiseDb = 0.5 } of zones) {
    const floor = Math.min(level(fromHz), level(toHz)) - 1;
    for (const hz of denseHz(sampleRateHz, fromHz, toHz)) {
      // The limit's own check stands on 192 points an octave; a narrow band may pass it between two by this much.
      check(`sum at ${hz} Hz in zone`, level(hz), maxRiseDb + 0.002);
      check(`fall at ${hz} Hz in zone`, -level(hz), -floor + 0.002);
    }
  }
  const span = denseHz(sampleRateHz, range.fromHz, range.toHz);
  const mean = span.reduce((sum, hz, i) => {
    const share = i === 0 || i === span.length - 1 ? 0.5 : 1;
    return sum + (share * level(hz)) / (span.length - 1);
  }, 0);
  // Its check runs on 48 points an octave; the trapezoid rule of either grid errs by less than this.
  check('level loss', -mean, limits.maxLevelLossDb + 0.003);
  return broken;
}
