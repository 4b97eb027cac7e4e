import type { Curve } from '../curve/curve.js';
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
    return { curve, warnings, isJson: false };
  }
  const text = utf8Text(bytes, fileName, expected);
  return { curve: readTarget(text, fileName, expected), warnings: [], isJson: true };
}
