import { formatFrequency } from '../../units/formatFrequency.js';
import { formatLength } from '../../units/formatLength.js';
import { isBox, isWellDetermined, type RollOff } from '../speaker/rollOff.js';
import { type BaffleStep, baffleStep } from './baffleStep.js';
import type { Scene } from './scene.js';

/** Shares of the expected step from which on it is called there, and up to which it is called made good. */
const THERE = 0.65;
const MADE_GOOD = 0.3;
/** A fall of more than this toward the treble is no longer a step made good but more. */
const MORE_DB = -1;

/** What the curve says of the speaker as a whole, one sentence each: its box and its front. */
export function speakerNotes(scene: Scene): string[] {
  const { rollOff, input } = scene;
  const step = baffleStep(scene);
  return [
    ...(rollOff && isBox(rollOff) ? [boxSentence(rollOff)] : []),
    ...(rollOff && !isWellDetermined(rollOff) ? [doubtSentence(rollOff)] : []),
    ...(step ? [baffleSentence(step, input.setup!.baffleWidthM!, input.setup!.lengthUnit)] : []),
  ];
}

const about = (hz: number) => formatFrequency(Number(hz.toPrecision(2)));

function boxSentence({ box, cornerHz, slopeDbPerOctave, withoutWalls }: RollOff): string {
  const what = withoutWalls ? "the speaker's own level, what the walls add taken off," : 'the level';
  return `Below about ${about(cornerHz)} ${what} falls as a ${box.kind} box does, by ${Math.round(slopeDbPerOctave)} dB per octave.`;
}

function doubtSentence({ cornerHz, fromHz, toHz }: RollOff): string {
  return (
    `The speaker's lower corner is not well determined: by this curve it may lie anywhere from ${about(fromHz)} to ${about(toHz)}, ` +
    `and ${about(cornerHz)} is taken for it. Where the maker states a lower limit, give that with --from.`
  );
}

function baffleSentence(
  { stepHz, expectedDb, foundDb }: BaffleStep,
  widthM: number,
  unit: 'cm' | 'in',
): string {
  const share = foundDb / expectedDb;
  const does = foundDb >= 0 ? `rises by ${foundDb.toFixed(1)} dB` : `falls by ${(-foundDb).toFixed(1)} dB`;
  const so =
    foundDb < MORE_DB
      ? 'more than made good, by the speaker or by surfaces close to it'
      : share <= MADE_GOOD
        ? "the step is made good, most likely in the maker's DSP or crossover"
        : share < THERE
          ? 'the step is made good in part'
          : 'the step is not made good: filters that aim at a flat target do it, within their limits';
  return `A front ${formatLength(widthM, unit)} wide alone makes the level rise by ${expectedDb.toFixed(1)} dB from the octaves below ${formatFrequency(stepHz)} to those above; the curve, reflections taken out, ${does}: ${so}.`;
}
