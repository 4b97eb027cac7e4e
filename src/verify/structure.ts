import { DELAYS_S, reflectionCorrelation } from './reflectionCorrelation.js';

/** What the reflections of a room may be like. */
export interface Structure {
  /** Between cells of the grid, n×n, lower triangle. */
  readonly correlation: Float64Array;
  /** Their strength has fallen by 3 dB there: a directional speaker, soft surfaces. */
  readonly fadesFromHz: number;
  /** Standard deviation of a smooth change of tone, in dB. */
  readonly toneDb: number;
}

const NEAR_TO_S = 0.004;
const FAR_FROM_S = 0.001;
const FADES_FROM_HZ = 2000;
const NEVER = Number.POSITIVE_INFINITY;
/** Warmth, and how exactly a microphone is pointed. */
const SAME_TONE_DB = 0.1;
/** Another microphone or calibration, or a tone control. */
const OTHER_TONE_DB = 3;

/** Delays of all lengths alike. */
export function anyStructure(frequencyHz: Float64Array, smoothedOctaves = 0): Structure {
  return {
    correlation: reflectionCorrelation(frequencyHz, DELAYS_S, smoothedOctaves),
    fadesFromHz: NEVER,
    toneDb: SAME_TONE_DB,
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
      toneDb: SAME_TONE_DB,
    },
    { correlation: farCorrelation, fadesFromHz: NEVER, toneDb: SAME_TONE_DB },
    { correlation: farCorrelation, fadesFromHz: FADES_FROM_HZ, toneDb: SAME_TONE_DB },
  ];
}

/** The room as it was, heard through something of another tone. */
export function otherTone(structure: Structure): Structure {
  return { ...structure, toneDb: OTHER_TONE_DB };
}
