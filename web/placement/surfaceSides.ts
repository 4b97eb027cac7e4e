import type { Setup, Surface } from '../../src/acoustics/setup.js';

/**
 * The axes of the plan: x from the wall behind the speaker toward the listener, y to the right of someone who stands
 * at that wall's foot as the plan shows it, z upward.
 */
export type Axis = 'x' | 'y' | 'z';

/** Where a surface lies: at the lower end of its axis (−1: behind, left, below) or at the upper (+1). */
export interface Side {
  readonly axis: Axis;
  readonly end: -1 | 1;
}

const behind: Side = { axis: 'x', end: -1 };
const across: Side = { axis: 'x', end: 1 };
const left: Side = { axis: 'y', end: -1 };
const right: Side = { axis: 'y', end: 1 };
const below: Side = { axis: 'z', end: -1 };
const above: Side = { axis: 'z', end: 1 };

/** Words that say where a surface lies; the first that is found decides. */
const SIDE_WORDS: readonly (readonly [RegExp, Side])[] = [
  [/\b(ceiling|above|roof|slope|overhead)\b/i, above],
  [/\b(desk|desktop|table|floor|ground|console|below|shelf|sideboard|top|carpet)\b/i, below],
  [/\bleft\b/i, left],
  [/\bright\b/i, right],
];
const LENGTH_WORDS: readonly (readonly [RegExp, Side])[] = [
  [/\b(across|opposite)\b/i, across],
  [/\b(behind|rear)\b/i, behind],
];

/** From this share of the straight distance on, a difference of distances is most likely one along it. */
const ALONG = 0.7;

/**
 * Where each surface lies, in the order of the set-up. A set-up has distances only, so this is read from the name
 * where that says a side, above or below; else from the distances where they are plain (the microphone is much farther
 * from a wall behind, and much nearer to one across: "back wall" may be either); else from what the name says of behind
 * and across; else it is a wall at the side, left, and right for the next one. It decides where a surface is drawn and
 * which way it makes the speaker move; no frequency that is predicted for a place depends on it.
 */
export function surfaceSides(setup: Setup): Side[] {
  const sides: Side[] = [];
  for (const surface of setup.surfaces) {
    const leftTaken = sides.some(({ axis, end }) => axis === 'y' && end === -1);
    sides.push(
      byWords(SIDE_WORDS, surface.name) ??
        byDistances(surface, setup.microphoneDistance.m) ??
        byWords(LENGTH_WORDS, surface.name) ??
        (leftTaken ? right : left),
    );
  }
  return sides;
}

function byDistances({ speakerDistance, microphoneDistance }: Surface, straightM: number): Side | undefined {
  const aheadM = microphoneDistance.m - speakerDistance.m;
  if (aheadM >= ALONG * straightM) return behind;
  return aheadM <= -ALONG * straightM ? across : undefined;
}

function byWords(words: typeof SIDE_WORDS, name: string): Side | undefined {
  return words.find(([word]) => word.test(name))?.[1];
}
