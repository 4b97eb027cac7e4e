import { qConventions } from '../filter/qConventions.js';
import type { Hypothesis, HypothesisDetail } from './hypothesis.js';
import type { Accepted } from './judge.js';
import { percent, type Words } from './words.js';

/** Shares of the misfit nearer to one another than that do not tell two readings apart. */
const AS_WELL = 0.02;
/** What another way to the same filters must explain to be worth a sentence. */
const NEARLY_AS_WELL = 0.05;

/**
 * What to say of a Q that means something else to the device. Numbers entered as they stand into a device of one
 * meaning, and numbers converted to another for a device of the cookbook's, come to much the same filters: who
 * entered them knows which it was.
 */
export function conventionWords(
  { detail }: Hypothesis,
  share: string,
  wholeBank: readonly Accepted[],
): Words {
  const readings = wholeBank
    .filter(({ hypothesis }) => hypothesis.type === 'qConvention')
    .sort((a, b) => b.explains - a.explains);
  const isOwn = (other: HypothesisDetail) =>
    other.convention === detail.convention && other.direction === detail.direction;
  const own = readings.find(({ hypothesis }) => isOwn(hypothesis.detail))?.explains ?? 1;
  const rivals = readings.filter(({ hypothesis }) => !isOwn(hypothesis.detail));
  const alike = rivals.find(({ hypothesis }) => hypothesis.detail.direction === detail.direction);
  const otherwise = rivals.find(({ hypothesis }) => hypothesis.detail.direction !== detail.direction);
  const next =
    alike === undefined
      ? ''
      : own - alike.explains < AS_WELL
        ? ` About as good an explanation is ${calledBy(alike)}; these filters do not tell the two apart.`
        : ` The next best, ${calledBy(alike)}, explains ${percent(alike.explains)}.`;
  const instead = otherwise && own - otherwise.explains < NEARLY_AS_WELL ? otherwise : undefined;
  const name = detail.convention!;
  const { words } = qConventions[name];
  return detail.direction === 'entered'
    ? {
        message: `The equalizer means something else by Q. It fits best that it takes the number for: ${words}; that ${share}.${next}`,
        fix: `${convertTo(name)}, or load coefficients in place of numbers.${
          instead
            ? ` If the numbers were converted before they were entered (to ${calledBy(instead)}, say), enter the Q of filters.txt as it stands there.`
            : ''
        }`,
      }
    : {
        message: `The Q numbers seem to have been converted to "${words}", but the equalizer takes them for the Q of the Audio EQ Cookbook; that ${share}.${next}`,
        fix: `Enter the Q of filters.txt as it stands there.${
          instead
            ? ` If it was entered so, the equalizer takes it for something else (${calledBy(instead)} fits best): ${decapitalized(convertTo(nameOf(instead)))}, or load coefficients in place of numbers.`
            : ''
        }`,
      };
}

const convertTo = (name: string): string =>
  `Convert the Q of every filter to that meaning before it is entered (a device file with "qConvention": "${name}" does it)`;
const decapitalized = (text: string): string => text.charAt(0).toLowerCase() + text.slice(1);
const calledBy = ({ hypothesis }: Accepted): string => qConventions[hypothesis.detail.convention!].called;
const nameOf = ({ hypothesis }: Accepted): string => hypothesis.detail.convention!;
