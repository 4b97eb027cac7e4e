import type { Design } from '../../schema/design.js';
import { formatFrequency } from '../../units/formatFrequency.js';
import { adviceForAll, adviceWords, causeName, causeWords, findingName } from '../words/findingWords.js';
import { formatSignedDb } from '../words/formatDb.js';
import { joinWords } from '../words/joinWords.js';
import { movesByCause } from '../words/movesByCause.js';

/**
 * What wants moving, in one line for all dips of one surface, or to which the same advice holds. Advice that speaks of
 * one dip is that of the deepest and says so: several forecasts for one move of the speaker would only confuse.
 */
function moveLines(findings: Design['findings']): string[] {
  return movesByCause(findings).map((alike) => {
    const first = alike[0]!;
    if (alike.length === 1) {
      return `- ${findingName(first)}, ${formatSignedDb(first.levelDb)}, ${causeWords(first)}: ${adviceWords(first)}`;
    }
    const places = alike.map(
      ({ frequencyHz, levelDb }) => `${formatFrequency(frequencyHz)} (${formatSignedDb(levelDb)})`,
    );
    return `- ${first.kind}s at ${joinWords(places)}, ${causeName(first.cause)}: ${adviceForAll(alike)}`;
  });
}

/** What the filters leave alone, with what to do about it; empty where there is nothing. */
export function leftAloneLines(design: Design): string[] {
  const moves = moveLines(design.findings);
  const leave = design.findings.filter((finding) => finding.verdict === 'leave');
  const unfilled = leave.filter(({ zone }) => zone !== undefined);
  const left = leave.filter(({ zone }) => zone === undefined);
  const peaks = left.filter((finding) => finding.kind === 'peak').length;
  const count = (n: number, noun: string) => (n === 0 ? [] : [`${n} ${noun}${n === 1 ? '' : 's'}`]);
  const rest =
    left.length === 0
      ? []
      : [
          `- ${joinWords([...count(peaks, 'peak'), ...count(left.length - peaks, 'dip')])} too small, too narrow or too uncertain to touch`,
        ];
  const lines = [...moves, ...notFilled(unfilled), ...rest];
  return lines.length === 0 ? [] : ['', 'Left alone', ...lines];
}

function notFilled(dips: Design['findings']): string[] {
  if (dips.length === 0) return [];
  const [them, where] = dips.length === 1 ? ['it', 'dip at'] : ['them', 'dips at'];
  const list = joinWords(dips.map(({ frequencyHz }) => formatFrequency(frequencyHz)));
  return [
    `- ${where} ${list}, too uncertain or too high up to be moved away: not filled, the EQ goes on as the curve beside ${them} asks`,
  ];
}
