import type { EarlierLines } from './earlierLines.js';

/**
 * What an earlier run has left, in a sentence.
 *
 * @param all how many jobs there are
 * @param changed which of those done read a file that was written anew since
 * @param again which of them are done again now
 */
export function doneBefore(
  all: number,
  { done, failed }: EarlierLines,
  changed: readonly number[],
  again: readonly number[],
): string {
  const were = `${done} of ${all} jobs were done before`;
  const are = (n: number) => (n === 1 ? 'is' : 'are');
  if (again.length > 0) return `${were}; ${again.length} of them ${are(again.length)} done again.`;
  const news = changed.filter((i) => !failed.includes(i)).length;
  const parts = [
    ...(failed.length > 0
      ? [
          `${failed.length} of them failed and ${are(failed.length)} not tried again: their lines say why, --retry does them again, --force begins anew`,
        ]
      : []),
    ...(news > 0
      ? [
          `of ${news} a file has been written anew since, which ${news === 1 ? 'its line does' : 'their lines do'} not tell of: --retry does them again`,
        ]
      : []),
  ];
  return `${[were, ...parts].join('; ')}.`;
}
