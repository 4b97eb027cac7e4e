import type { Warning } from '../../warning.js';

const NULL_CODE = 'null-not-boosted';

/**
 * Warnings as they are told: nulls that are not boosted, whose advice stands elsewhere, make one where there are several, so that they do
 * not hide the others.
 *
 * @param where the advice stands: `above, under "Left alone"`
 */
export function toldWarnings(warnings: readonly Warning[], where: string): readonly Warning[] {
  const nulls = warnings.filter(({ code }) => code === NULL_CODE);
  if (nulls.length < 2) return warnings;
  return [
    {
      code: NULL_CODE,
      message:
        `${nulls.length} dips are not boosted: they are taken for cancellations, which a boost only drives harder. ` +
        `What to do about them stands ${where}.`,
    },
    ...warnings.filter((warning) => !nulls.includes(warning)),
  ];
}
