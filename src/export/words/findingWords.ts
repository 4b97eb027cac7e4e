import type { Cause, Finding, Verdict } from '../../diagnosis/verdict/finding.js';
import { formatFrequency } from '../../units/formatFrequency.js';
import { cleanText } from './cleanText.js';
import { fixedDecimals } from './fixedDecimals.js';
import { formatSpan } from './formatSpan.js';

/** "dip at 297 Hz" */
export function findingName(finding: Pick<Finding, 'kind' | 'frequencyHz'>): string {
  return `${finding.kind} at ${formatFrequency(finding.frequencyHz)}`;
}

/** What is done about it, short enough for a badge. */
export function verdictWords(verdict: Verdict): string {
  return { move: 'Move, do not boost', equalize: 'Mend by EQ', leave: 'Left as it is' }[verdict];
}

/** A prediction that is this share off is said to be. */
const OFF_FROM = 0.1;

/** Where it comes from: "reflection from “desk” (predicted at 1.19 kHz, 23 % higher)"; how far off only from 10 % on. */
export function causeWords({ cause, frequencyHz }: Pick<Finding, 'cause' | 'frequencyHz'>): string {
  if (cause.predictedHz === undefined) return causeName(cause);
  const off = cause.predictedHz / frequencyHz - 1;
  const words = `${fixedDecimals(100 * Math.abs(off), 0)} % ${off > 0 ? 'higher' : 'lower'}`;
  const where = `predicted at ${formatFrequency(cause.predictedHz)}`;
  return `${causeName(cause)} (${Math.abs(off) < OFF_FROM ? where : `${where}, ${words}`})`;
}

/** As `causeWords`, without where it was predicted. */
export function causeName({ type, surface }: Cause): string {
  return {
    reflection: surface === undefined ? 'reflection' : `reflection from "${cleanText(surface)}"`,
    roomMode: 'room mode',
    speaker: 'the speaker itself',
    unknown: 'cause not known',
  }[type];
}

/** How sure the diagnosis is, in words with the figure behind them. */
function confidenceWords(confidence: number): string {
  const percent = `${fixedDecimals(confidence * 100, 0)} %`;
  if (confidence >= 0.85) return `very likely (${percent})`;
  if (confidence >= 0.65) return `likely (${percent})`;
  if (confidence >= 0.4) return `possible (${percent})`;
  return `a guess (${percent})`;
}

/** The same of a finding: of a cause that is not known what is told is how far it may be the speaker. */
export function sureWords({ cause, confidence }: Pick<Finding, 'cause' | 'confidence'>): string {
  return cause.type === 'unknown'
    ? `the speaker's with ${fixedDecimals(100 * (1 - confidence), 0)} %`
    : confidenceWords(confidence);
}

/** What the EQ does not do in its span: "does not fill 2.6 kHz to 3.4 kHz"; undefined where it has none. */
export function zoneWords({ zone, verdict }: Pick<Finding, 'zone' | 'verdict'>): string | undefined {
  if (zone === undefined) return undefined;
  return verdict === 'move' ? `leaves ${formatSpan(zone)} alone` : `does not fill ${formatSpan(zone)}`;
}

/** What the reader should do, the finding's own advice where it has one. */
export function adviceWords(finding: Finding): string {
  if (finding.advice !== undefined) return cleanText(finding.advice);
  return {
    move: 'Move the speaker or the microphone a little and measure again; do not boost here.',
    equalize: 'Leave it to the filters; nothing needs moving.',
    leave: 'Nothing.',
  }[finding.verdict];
}

/** One advice for several findings that one move deals with: where theirs differ, that of the most prominent, named. */
export function adviceForAll(alike: readonly Finding[]): string {
  const deepest = alike.reduce((a, b) => (Math.abs(b.levelDb) > Math.abs(a.levelDb) ? b : a));
  const advice = adviceWords(deepest);
  if (alike.every((finding) => adviceWords(finding) === advice)) return advice;
  const most = deepest.kind === 'dip' ? 'deepest' : 'highest';
  return `For the ${most} of them, at ${formatFrequency(deepest.frequencyHz)}: ${advice}`;
}

/** What is done about it and why, in a few words for a key: "move, not boost (wall behind)". */
export function adviceShort(finding: Pick<Finding, 'verdict' | 'cause'>): string {
  const { verdict, cause } = finding;
  const why = {
    reflection: cause.surface === undefined ? 'a reflection' : cleanText(cause.surface),
    roomMode: 'room mode',
    speaker: 'the speaker',
    unknown: '',
  }[cause.type];
  const what = { move: "move, don't boost", equalize: 'mend by EQ', leave: 'left as it is' }[verdict];
  return why === '' ? what : `${what} (${why})`;
}
