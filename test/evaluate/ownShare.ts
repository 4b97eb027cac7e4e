import { localSmooth } from '../../src/diagnosis/features/localSmooth.js';
import type { EvaluationCase } from './evaluationCase.js';

const SMOOTHING_OCTAVES = 1 / 30;

/** Depth in dB of a dip, against what lies 0.75 to 1.5 of its widths away on both sides, in any curve on the grid. */
export type DepthOf = (dip: { readonly frequencyHz: number; readonly widthOctaves: number }) => number;

export function depthIn(frequencyHz: Float64Array, levelDb: Float64Array): DepthOf {
  const octave = frequencyHz.map((f) => Math.log2(f));
  const smooth = localSmooth(octave, levelDb, SMOOTHING_OCTAVES);
  return ({ frequencyHz: at, widthOctaves }) => {
    const middle = Math.log2(at);
    let here = 0;
    let nearest = Number.POSITIVE_INFINITY;
    let sum = 0;
    let count = 0;
    for (let i = 0; i < octave.length; i++) {
      const away = Math.abs(octave[i]! - middle);
      if (away < nearest) {
        nearest = away;
        here = smooth[i]!;
      }
      if (away < 0.75 * widthOctaves || away > 1.5 * widthOctaves) continue;
      sum += smooth[i]!;
      count++;
    }
    return count > 0 ? sum / count - here : 0;
  };
}

/** How much of a dip of the measured curve the speaker's direct sound alone has as well: 1 all of it, 0 nothing. */
export function ownShareOf({ input, ownDb }: EvaluationCase): DepthOf {
  const { frequencyHz, levelDb } = input.curve;
  const measured = depthIn(frequencyHz, levelDb);
  const own = depthIn(frequencyHz, ownDb);
  return (dip) => own(dip) / Math.max(0.5, measured(dip));
}
