import type { Curve } from '../curve/curve.js';
import { formatFrequency } from '../units/formatFrequency.js';
import type { Warning } from '../warning.js';

/** Longest gate that is worth a word. */
const LONGEST_GATE_S = 0.03;
const EVEN = 0.01;

/**
 * A warning where a curve seems to come from a gated impulse response, or where its comments say so.
 *
 * The mark: points that are whole multiples of one spacing, which is the reciprocal of the length transformed, and
 * start right at the first ones. A gate of length T resolves nothing below 1/T (published: handbooks of measurement).
 * A gated response that was padded or put on another grid cannot be told from one of a speaker without a room, and
 * is not warned of.
 *
 * @param comments comment lines of the measurement
 * @param name how the message calls the measurement
 */
export function looksGated(
  curve: Curve,
  comments: readonly string[] = [],
  name = 'The measurement',
): readonly Warning[] {
  const said = comments.find(saysGated);
  const spacingHz = evenSpacingHz(curve.frequencyHz);
  const coarse = spacingHz !== undefined && spacingHz * LONGEST_GATE_S >= 1;
  if (said === undefined && !coarse) return [];
  const reason =
    said === undefined
      ? `its points lie ${formatFrequency(spacingHz!)} apart from the first one on, as after a gate of ${Number((1000 / spacingHz!).toPrecision(2))} ms; nothing finer is resolved, and nothing below that frequency`
      : `its comments say "${said.slice(0, 60)}"; nothing finer than the reciprocal of the gate is resolved`;
  return [
    {
      code: 'measurement-gated',
      message: `${name} seems to be gated: ${reason}. It shows the speaker more than the room; correct the bass from a measurement without a gate.`,
      ...(said === undefined && { frequencyHz: spacingHz! }),
    },
  ];
}

function saysGated(comment: string): boolean {
  return (
    /\bgate[ds]?\b|\bgating\b/i.test(comment) &&
    !/\b(?:un|not |no |without (?:a )?)gat|gat(?:e|ed|ing)\s*[:=]?\s*(?:none|no|off)\b/i.test(comment)
  );
}

/** The spacing where all points are its multiples, from the first, second or third on; else undefined. */
function evenSpacingHz(frequencyHz: Float64Array): number | undefined {
  const n = frequencyHz.length;
  const spacing = (frequencyHz[n - 1]! - frequencyHz[0]!) / (n - 1);
  const order = Math.round(frequencyHz[0]! / spacing);
  if (order < 1 || order > 3) return undefined;
  const even = frequencyHz.every((f, i) => Math.abs(f / spacing - order - i) < EVEN * (order + i));
  return even ? spacing : undefined;
}
