import { DELAYS_S, reflectionCorrelation } from './reflectionCorrelation.js';

/** What the reflections of a room may be like. */
export interface Structure {
  /** Between cells of the grid, n×n, lower triangle. */
  readonly correlation: Float64Array;
  /** Their strength has fallen by 3 dB there: a directional speaker, soft surfaces. */
  readonly fadesFromHz: number;
  /** Smooth changes of tone: standard deviation, and how far apart two points are that know little of each other. */
  readonly tones: readonly { readonly db: number; readonly octaves: number }[];
}

const NEAR_TO_S = 0.004;
const FAR_FROM_S = 0.001;
const FADES_FROM_HZ = 2000;
const NEVER = Number.POSITIVE_INFINITY;
/** Changes of tone are slow over frequency. */
const TONE_OCTAVES = 1.5;
/** Warmth, and how exactly a microphone is pointed. */
const SAME_TONE = [{ db: 0.1, octaves: TONE_OCTAVES }];
/** Another microphone or calibration, or a tone control. */
const OTHER_TONE = [{ db: 3, octaves: TONE_OCTAVES }];
/** On top of that: filters an octave or two wide, of several dB. */
const SHAPE_DB = 2;

/** Delays of all lengths alike. */
export function anyStructure(frequencyHz: Float64Array, smoothedOctaves = 0): Structure {
  return {
    correlation: reflectionCorrelation(frequencyHz, DELAYS_S, smoothedOctaves),
    fadesFromHz: NEVER,
    tones: SAME_TONE,
  };
}

/** A few surfaces nearby; a whole room; a room that swallows treble. The measurement says which fits best. */
export function possibleStructures(frequencyHz: Float64Array, smoothedOctaves = 0): Structure[] {
  const near = DELAYS_S.filter((delayS) => delayS < NEAR_TO_S);
  const far = DELAYS_S.filter((delayS) => delayS > FAR_FROM_S);
  const farCorrelation = reflectionCorrelation(frequencyHz, far, smoothedOctaves);
  return [
    {
      correlation: reflectionCorrelation(frequencyHz, near, smoothedOctaves),
      fadesFromHz: NEVER,
      tones: SAME_TONE,
    },
    { correlation: farCorrelation, fadesFromHz: NEVER, tones: SAME_TONE },
    { correlation: farCorrelation, fadesFromHz: FADES_FROM_HZ, tones: SAME_TONE },
  ];
}

/** The room as it was, heard through another equalizer whose filters may be as narrow as that. */
export function otherShape(structure: Structure, octaves: number): Structure {
  return { ...structure, tones: [...OTHER_TONE, { db: SHAPE_DB, octaves }] };
}

/** The room as it was, heard through something of another tone. */
export function otherTone(structure: Structure): Structure {
  return { ...structure, tones: OTHER_TONE };
}
