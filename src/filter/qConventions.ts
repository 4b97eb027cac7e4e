import { atan } from '../elementary/arctangent.js';
import { sinh } from '../elementary/exponential.js';
import { asinh } from '../elementary/logarithm.js';
import { pow, pow10 } from '../elementary/power.js';
import { sin, tan } from '../elementary/sine.js';
import type { Filter, FilterType } from './filter.js';
import { qFromShelfSlope, shelfSlopeFromQ, steepestShelfSlope } from './shelfSlope.js';

/** A filter without its Q. */
export type FilterShape = Omit<Filter, 'q'>;

export const qConventionNames = [
  'cookbook',
  'bandwidthOctaves',
  'bandwidthOctavesAnalog',
  'bandwidthHz',
  'poleQ',
  'poleQMirrored',
  'threeDbQ',
  'threeDbFromFlatQ',
  'shelfSlope',
] as const;

export type QConventionName = (typeof qConventionNames)[number];

/** One meaning of the number that a device calls Q, bandwidth or slope. */
export interface QConvention {
  readonly name: QConventionName;
  /** What people may call it within a sentence. */
  readonly called: string;
  /** What the number says, for people. */
  readonly words: string;
  readonly source: string;
  readonly unit: '' | 'octaves' | 'Hz';
  /** Filters that the convention speaks of; for the others a device that uses it means the cookbook's Q. */
  readonly types: readonly FilterType[];
  /** What of a filter decides, besides the value, which Q it is. */
  readonly hangsOn: readonly ('frequency' | 'gain')[];
  /** The open interval of values that some filter of this shape has; undefined where none has any. */
  range(shape: FilterShape, sampleRateHz: number): { readonly min: number; readonly max: number } | undefined;
  /** The value of a cookbook filter; `range` says where there is one. */
  fromCookbookQ(filter: Filter, sampleRateHz: number): number;
  /** The cookbook's Q of a filter with this value. */
  toCookbookQ(value: number, shape: FilterShape, sampleRateHz: number): number;
}

const PEAKING: readonly FilterType[] = ['peaking'];
const ALL: readonly FilterType[] = ['peaking', 'lowShelf', 'highShelf'];

const ANY_POSITIVE = { min: 0, max: Number.POSITIVE_INFINITY };
const anyPositive = () => ANY_POSITIVE;

const angular = (shape: FilterShape, sampleRateHz: number): number =>
  (2 * Math.PI * shape.frequencyHz) / sampleRateHz;

/** A and its value for the boost of the same size. */
const amplitude = (gainDb: number): number => pow10(gainDb / 40);

/** α = sin ω0/(2Q) = tan(Δω/2), with Δω between the half-gain points: an identity of the bilinear transform. */
const alphaOf = (filter: Filter, sampleRateHz: number): number =>
  sin(angular(filter, sampleRateHz)) / (2 * filter.q);

const qOfAlpha = (alpha: number, shape: FilterShape, sampleRateHz: number): number =>
  sin(angular(shape, sampleRateHz)) / (2 * alpha);

const cookbook: QConvention = {
  name: 'cookbook',
  called: 'Q of the Audio EQ Cookbook',
  words:
    'Q of the Audio EQ Cookbook: at low frequencies the centre divided by the distance between the points of half ' +
    'the gain in dB; boost and cut of the same Q cancel; for shelves the Q of their poles and zeros',
  source: 'W3C Group Note "Audio EQ Cookbook"',
  unit: '',
  types: ALL,
  hangsOn: [],
  range: anyPositive,
  fromCookbookQ: (filter) => filter.q,
  toCookbookQ: (value) => value,
};

/** 1/Q = 2 sinh(ln 2/2 · BW · warp) */
function octaves(
  name: QConventionName,
  called: string,
  words: string,
  source: string,
  hangsOn: QConvention['hangsOn'],
  warp: (shape: FilterShape, sampleRateHz: number) => number,
): QConvention {
  return {
    name,
    called,
    words,
    source,
    unit: 'octaves',
    types: PEAKING,
    hangsOn,
    range: anyPositive,
    fromCookbookQ: (filter, sampleRateHz) =>
      (2 * asinh(1 / (2 * filter.q))) / (Math.LN2 * warp(filter, sampleRateHz)),
    toCookbookQ: (value, shape, sampleRateHz) =>
      1 / (2 * sinh((Math.LN2 / 2) * value * warp(shape, sampleRateHz))),
  };
}

const bandwidthOctaves = octaves(
  'bandwidthOctaves',
  'bandwidth in octaves',
  'bandwidth in octaves between the points of half the gain in dB, warping of the digital filter allowed for',
  'W3C Group Note "Audio EQ Cookbook", BW for a digital filter: 1/Q = 2 sinh(ln 2/2 · BW · ω0/sin ω0)',
  ['frequency'],
  (shape, sampleRateHz) => {
    const w0 = angular(shape, sampleRateHz);
    return w0 / sin(w0);
  },
);

const bandwidthOctavesAnalog = octaves(
  'bandwidthOctavesAnalog',
  'bandwidth in octaves of the analogue prototype',
  'bandwidth in octaves between the points of half the gain in dB of the analogue prototype',
  'W3C Group Note "Audio EQ Cookbook", BW for an analogue prototype: 1/Q = 2 sinh(ln 2/2 · BW)',
  [],
  () => 1,
);

const bandwidthHz: QConvention = {
  name: 'bandwidthHz',
  called: 'bandwidth in Hz',
  words: 'bandwidth in Hz between the points of half the gain in dB, on the real frequency axis',
  source:
    'Orfanidis, Introduction to Signal Processing, ch. 11.4, bandwidth at the geometric mean of the gains; ' +
    'there α = tan(Δω/2)',
  unit: 'Hz',
  types: PEAKING,
  hangsOn: ['frequency'],
  range: (_, sampleRateHz) => ({ min: 0, max: sampleRateHz / 2 }),
  fromCookbookQ: (filter, sampleRateHz) => (sampleRateHz / Math.PI) * atan(alphaOf(filter, sampleRateHz)),
  toCookbookQ: (value, shape, sampleRateHz) =>
    qOfAlpha(tan((Math.PI * value) / sampleRateHz), shape, sampleRateHz),
};

/** Q of the poles (of the zeros for a mirrored cut) is the cookbook's times a power of ten. Shelves have it as Q. */
function poles(
  name: QConventionName,
  called: string,
  words: string,
  source: string,
  ratio: (gainDb: number) => number,
): QConvention {
  const factor = (shape: FilterShape): number => (shape.type === 'peaking' ? ratio(shape.gainDb) : 1);
  return {
    name,
    called,
    words,
    source,
    unit: '',
    types: ALL,
    hangsOn: ['gain'],
    range: anyPositive,
    fromCookbookQ: (filter) => filter.q * factor(filter),
    toCookbookQ: (value, shape) => value / factor(shape),
  };
}

const poleQ = poles(
  'poleQ',
  'Q of the poles',
  'Q of the poles, independent of the gain: α is not divided by A, so boost and cut are not symmetrical and a cut ' +
    'comes out narrower than the boost of the same Q',
  'Regalia & Mitra, "Tunable digital frequency response equalization filters", IEEE Trans. ASSP 35 (1987); ' +
    'Orfanidis, Introduction to Signal Processing, ch. 11.4, bandwidth at the arithmetic mean of the powers',
  (gainDb) => amplitude(gainDb),
);

const poleQMirrored = poles(
  'poleQMirrored',
  'Q of the poles of a boost, cuts mirrored',
  'Q of the poles of a boost, independent of the gain; a cut is the mirror image of the boost, the number then ' +
    'being the Q of its zeros',
  'Zölzer (ed.), DAFX: Digital Audio Effects, ch. 2, second-order peak filters for boost and cut',
  (gainDb) => amplitude(Math.abs(gainDb)),
);

/**
 * Q = f0/(f2 − f1) between points of half the power, on the real axis. With the boost's A and the power PB at the
 * edges, tan(Δω/2) = α/A · √((A⁴ − PB)/(PB − 1)) (Orfanidis, ch. 11.4); a cut is the boost's mirror image.
 */
function halfPower(
  name: QConventionName,
  called: string,
  words: string,
  edgeRatio: (boostA: number) => number,
): QConvention {
  return {
    name,
    called,
    words,
    source: 'Orfanidis, Introduction to Signal Processing, ch. 11.4, alternative definitions of bandwidth',
    unit: '',
    types: PEAKING,
    hangsOn: ['frequency', 'gain'],
    range: (shape, sampleRateHz) =>
      pow(amplitude(Math.abs(shape.gainDb)), 4) > 2
        ? { min: (2 * shape.frequencyHz) / sampleRateHz, max: Number.POSITIVE_INFINITY }
        : undefined,
    fromCookbookQ: (filter, sampleRateHz) => {
      const edges = alphaOf(filter, sampleRateHz) * edgeRatio(amplitude(Math.abs(filter.gainDb)));
      return (Math.PI * filter.frequencyHz) / (sampleRateHz * atan(edges));
    },
    toCookbookQ: (value, shape, sampleRateHz) => {
      const edges = tan((Math.PI * shape.frequencyHz) / (sampleRateHz * value));
      return qOfAlpha(edges / edgeRatio(amplitude(Math.abs(shape.gainDb))), shape, sampleRateHz);
    },
  };
}

const threeDbQ = halfPower(
  'threeDbQ',
  'Q between the points 3 dB short of the full gain',
  'centre divided by the distance in Hz between the points 3 dB (half the power) short of the full boost or cut; ' +
    'needs more than 3.01 dB of either',
  (A) => A / Math.sqrt(pow(A, 4) - 2),
);

const threeDbFromFlatQ = halfPower(
  'threeDbFromFlatQ',
  'Q between the points 3 dB from flat',
  'centre divided by the distance in Hz between the points where boost or cut reaches 3 dB (half the power) from ' +
    '0 dB; needs more than 3.01 dB of either',
  (A) => Math.sqrt(pow(A, 4) - 2) / A,
);

const shelfSlope: QConvention = {
  name: 'shelfSlope',
  called: 'slope of a shelf',
  words:
    'slope S of a shelf, proportional to the steepness in dB per octave at its middle; 1 is the steepest that does ' +
    'not overshoot',
  source: 'W3C Group Note "Audio EQ Cookbook": 1/Q = √((A + 1/A)(1/S − 1) + 2)',
  unit: '',
  types: ['lowShelf', 'highShelf'],
  hangsOn: ['gain'],
  range: (shape) => ({ min: 0, max: steepestShelfSlope(shape.gainDb) }),
  fromCookbookQ: (filter) => shelfSlopeFromQ(filter.q, filter.gainDb),
  toCookbookQ: (value, shape) => qFromShelfSlope(value, shape.gainDb),
};

export const qConventions: Readonly<Record<QConventionName, QConvention>> = {
  cookbook,
  bandwidthOctaves,
  bandwidthOctavesAnalog,
  bandwidthHz,
  poleQ,
  poleQMirrored,
  threeDbQ,
  threeDbFromFlatQ,
  shelfSlope,
};

/** The convention that a device using `name` applies to filters of this type: its own, or the cookbook's Q. */
export function conventionFor(name: QConventionName, type: FilterType): QConvention {
  return qConventions[name].types.includes(type) ? qConventions[name] : cookbook;
}

/**
 * The number to enter as Q (bandwidth, slope) into a device that uses a convention.
 *
 * @returns undefined where the convention has no value for such a filter, for example a Q between −3 dB points of a
 * boost of 2 dB
 */
export function settingFromFilter(
  filter: Filter,
  name: QConventionName,
  sampleRateHz: number,
): number | undefined {
  const convention = conventionFor(name, filter.type);
  if (convention.range(filter, sampleRateHz) === undefined) return undefined;
  return convention.fromCookbookQ(filter, sampleRateHz);
}

/**
 * The filter that a device makes of a number entered as Q under a convention.
 *
 * @returns undefined where no filter has that value (see `QConvention.range`)
 */
export function filterFromSetting(
  shape: FilterShape,
  setting: number,
  name: QConventionName,
  sampleRateHz: number,
): Filter | undefined {
  const convention = conventionFor(name, shape.type);
  const range = convention.range(shape, sampleRateHz);
  if (range === undefined || !(setting > range.min && setting < range.max)) return undefined;
  const { type, frequencyHz, gainDb } = shape;
  return { type, frequencyHz, gainDb, q: convention.toCookbookQ(setting, shape, sampleRateHz) };
}
