import { speedOfSound } from '../../acoustics/speedOfSound.js';
import type { Curve, FrequencyRange } from '../../curve/curve.js';
import { log2 } from '../../elementary/logarithm.js';
import { betweenFlanks } from '../features/betweenFlanks.js';
import type { Feature } from '../features/detectFeatures.js';
import { localSmooth } from '../features/localSmooth.js';
import { surroundingTrend } from '../features/surroundingTrend.js';
import { windowMean } from '../features/windowMean.js';
import { PARAMETERS_PER_PATH, pathGrid, sumPaths } from '../paths/pathModel.js';
import { rightAnglePairs } from '../paths/rightAnglePairs.js';
import { stayedCombs } from '../paths/stayedCombs.js';
import { fallDb, fitRollOff, type RollOff } from '../speaker/rollOff.js';
import type { DiagnosisInput } from './diagnosisInput.js';
import { expectedPaths } from './expectedPaths.js';
import { type Explanation, explainByPaths } from './explainByPaths.js';

/** Standard deviation of the smoothing ahead of everything: about 1/12 octave between half values. */
const SMOOTHING_OCTAVES = 1 / 30;
/** Reach of the mean that a height is taken over: 1.5 octaves in all. */
export const SURROUNDINGS_OCTAVES = 0.75;
const ROOM_TEMPERATURE_C = 20;

/** A curve as heights over its surroundings. */
export interface Heights {
  /** Smoothed, roll-off taken out. */
  readonly levelDb: Float64Array;
  /** Over the mean of the 1.5 octaves around. */
  readonly localDb: Float64Array;
}

/** What all reflections that explain a curve do to it, on the curve's own grid. */
export interface Reflected extends Heights {
  readonly explanation: Explanation;
  /** `localDb` with one path (and what goes by way of it) left out, one array a path. */
  readonly withoutDb: readonly Float64Array[];
}

/** All that is worked out once for a curve, before single features are looked at. */
export interface Scene {
  readonly input: DiagnosisInput;
  readonly frequencyHz: Float64Array;
  readonly octave: Float64Array;
  readonly speedOfSoundMs: number;
  readonly rollOff?: RollOff;
  readonly measured: Heights;
  /** Smoothed level over the trend of two octaves on either side, in which features are looked for. */
  readonly heightDb: Float64Array;
  /** Smoothed level over the lower of the flanks on either side, 0 but in narrow dips. */
  readonly betweenFlanksDb: Float64Array;
  readonly reflected?: Reflected;
  /** The other placements, in the order of the input. */
  readonly moved: readonly Heights[];
  /** Reflections that are the same in all placements: those of surfaces that the speaker was moved along. */
  readonly stayed: readonly StayedReflection[];
  /** The direct sound alone. */
  readonly direct?: Heights;
}

/** What a reflection that stayed when the speaker was moved does to the curve. */
export interface StayedReflection extends Heights {
  readonly differenceM: number;
}

/** The heights in which a feature was found. */
export function heightsFor({ betweenFlanks }: Feature, { heightDb, betweenFlanksDb }: Scene): Float64Array {
  return betweenFlanks ? betweenFlanksDb : heightDb;
}

export function describeScene(input: DiagnosisInput): Scene {
  const { frequencyHz, levelDb } = input.curve;
  const { setup } = input;
  const octave = frequencyHz.map(log2);
  const speedOfSoundMs = speedOfSound(setup?.temperatureC ?? ROOM_TEMPERATURE_C);
  const rollOff = input.rollOff ?? fitRollOff(input.curve);
  const fall = fallDb(rollOff, frequencyHz);
  const flat = fall ? levelDb.map((l, i) => l - fall[i]!) : levelDb;
  const measured = heightsOf(octave, flat);
  const trendDb = surroundingTrend(octave, flat);
  const reflected = reflectedPart({ frequencyHz, levelDb: flat }, octave, input, speedOfSoundMs);
  const moved = (input.moved ?? []).map((curve) => otherHeights(curve, frequencyHz, octave, fall));
  return {
    input,
    frequencyHz,
    octave,
    speedOfSoundMs,
    ...(rollOff && { rollOff }),
    measured,
    heightDb: measured.levelDb.map((l, i) => l - trendDb[i]!),
    betweenFlanksDb: betweenFlanks(octave, measured.levelDb),
    ...(reflected && { reflected }),
    moved,
    stayed: stayedPart(frequencyHz, octave, [measured, ...moved], input.range, speedOfSoundMs),
    ...(input.direct && { direct: otherHeights(input.direct.curve, frequencyHz, octave, fall) }),
  };
}

export function heightsOf(octave: Float64Array, levelDb: Float64Array): Heights {
  const smoothed = localSmooth(octave, levelDb, SMOOTHING_OCTAVES);
  const around = windowMean(octave, smoothed, SURROUNDINGS_OCTAVES);
  return { levelDb: smoothed, localDb: smoothed.map((l, i) => l - around[i]!) };
}

function reflectedPart(
  curve: Curve,
  octave: Float64Array,
  { range, setup, reflections }: DiagnosisInput,
  speedOfSoundMs: number,
): Reflected | undefined {
  const explanation = explainByPaths(curve, range, {
    speedOfSoundMs,
    expected: expectedPaths(setup, reflections ?? [], speedOfSoundMs),
    pairs: setup ? rightAnglePairs(setup) : [],
  });
  if (!explanation) return undefined;
  const grid = pathGrid(curve.frequencyHz, speedOfSoundMs);
  const { parameters } = explanation.fit;
  const heights = (p: Float64Array, pairs = explanation.pairs) =>
    heightsOf(octave, sumPaths(grid, p, pairs).levelDb);
  const withoutDb = explanation.expected.map((_, path) => {
    const muted = parameters.slice();
    for (let k = 1; k < PARAMETERS_PER_PATH; k++) muted[path * PARAMETERS_PER_PATH + k] = MUTED;
    return heights(muted).localDb;
  });
  return { ...heights(parameters), explanation, withoutDb };
}

function stayedPart(
  frequencyHz: Float64Array,
  octave: Float64Array,
  placements: readonly Heights[],
  range: FrequencyRange,
  speedOfSoundMs: number,
): StayedReflection[] {
  if (placements.length < 2) return [];
  const curves = placements.map(({ levelDb }) => levelDb);
  return stayedCombs(frequencyHz, curves, range, speedOfSoundMs).map(({ differenceM, levelDb }) => ({
    differenceM,
    ...heightsOf(octave, levelDb),
  }));
}

/** ln of a strength that counts for nothing. */
const MUTED = -20;

function otherHeights(
  curve: Curve,
  frequencyHz: Float64Array,
  octave: Float64Array,
  fall: Float64Array | undefined,
): Heights {
  // Where the other placement was not measured the same distance down or up, its own ends stand for the rest.
  const first = curve.frequencyHz[0]!;
  const levelDb = new Float64Array(frequencyHz.length);
  let k = 0;
  for (let i = 0; i < frequencyHz.length; i++) {
    while (k < curve.frequencyHz.length - 1 && curve.frequencyHz[k]! < frequencyHz[i]! * (1 - 1e-9)) k++;
    levelDb[i] = curve.levelDb[frequencyHz[i]! < first ? 0 : k]! - (fall?.[i] ?? 0);
  }
  return heightsOf(octave, levelDb);
}
