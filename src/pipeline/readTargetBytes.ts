import type { Curve } from '../curve/curve.js';
import { octaveWeights } from '../curve/octaveWeights.js';
import { smoothOctave } from '../curve/smoothOctave.js';
import { weightedRms } from '../curve/weightedRms.js';
import { readCurveText } from '../measurement/readCurveText.js';
import { isJsonText } from '../schema/isJsonText.js';
import { readTarget } from '../schema/target.js';
import { utf8Text } from '../schema/utf8Text.js';
import type { Warning } from '../warning.js';

const HEAD_BYTES = 4096;

/** A target as its file has it, and what was noticed in reading it. */
export interface TargetReading {
  readonly curve: Curve;
  readonly warnings: readonly Warning[];
  /** It was written as breakpoints in JSON, which nothing but a target is. */
  readonly isJson: boolean;
}

/**
 * Reads a target: breakpoints in JSON, or two columns. Which of them it is shows in how the file begins.
 *
 * @param bytes the whole file
 * @param fileName as it shall stand in messages
 * @param expected what a target file is ("a target file: …"), for messages about one that is none
 * @throws InputError naming file, line, what was found and what was expected
 */
export function readTargetBytes(bytes: Uint8Array, fileName: string, expected: string): TargetReading {
  if (!isJsonText(new TextDecoder().decode(bytes.subarray(0, HEAD_BYTES)))) {
    const { curve, warnings } = readCurveText(bytes, fileName);
    return { curve, warnings: [...warnings, ...looksMeasured(curve, fileName)], isJson: false };
  }
  const text = utf8Text(bytes, fileName, expected);
  return { curve: readTarget(text, fileName, expected), warnings: [], isJson: true };
}

const FINE_OCTAVES = 1 / 3;
/**
 * Of 60 measurements in simulated rooms the least rough has 1.4 dB unsmoothed, 1.1 over 1/12 and 0.7 over 1/6 octave; curves that are
 * drawn keep to 0.3, with notches, steps or a crossover of 48 dB an octave in them to 0.5.
 */
const ROUGH_DB = 0.7;
/** Farther below the greatest level a drawn filter falls so steeply that smoothing lifts it; a crossover's target has such ends. */
const COUNTED_DB = 15;
/** As many rows as a measurement has at least. */
const FEWEST_ROWS = 16;

/** A target is drawn, so that it is smooth: one as rough as a measurement is the wrong file, and would have its dips copied. */
function looksMeasured(curve: Curve, fileName: string): Warning[] {
  if (curve.frequencyHz.length < FEWEST_ROWS) return [];
  const smoothDb = smoothOctave(curve, FINE_OCTAVES).levelDb;
  const leastDb =
    curve.levelDb.reduce((most, db) => Math.max(most, db), Number.NEGATIVE_INFINITY) - COUNTED_DB;
  const weights = octaveWeights(curve.frequencyHz).map((weight, i) =>
    curve.levelDb[i]! >= leastDb ? weight : 0,
  );
  const roughDb = weightedRms(
    curve.levelDb.map((db, i) => db - smoothDb[i]!),
    weights,
  );
  if (roughDb < ROUGH_DB) return [];
  return [
    {
      code: 'target-suspect',
      message:
        `${fileName} is given as the target, yet is as rough as a measurement: ${roughDb.toFixed(1)} dB RMS finer than a third of an octave. ` +
        'If it is one, its peaks and dips are aimed at.',
    },
  ];
}
