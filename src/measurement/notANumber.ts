import type { DecimalMark } from './parseDecimal.js';
import { showInvisible } from './showInvisible.js';
import { thousandsHint, withoutThousands } from './thousands.js';

const COMMA = 0x2c;

/**
 * That a field is no number, and what it may have been meant for.
 *
 * @param mark what stands before the decimals of the file
 * @param marked the frequency beside it, where that could be thousands with a mark
 */
export function notANumber(
  name: string,
  text: string,
  mark: DecimalMark,
  rowsBefore: number,
  marked?: string,
): string {
  const other = mark.byte === COMMA ? '.' : ',';
  const plain = thousandsHint(text);
  const mixed = mark.byte !== 0 && text.includes(other);
  const before = rowsBefore === 0 ? 'what stands before it has' : 'the rows before it have';
  const shown = showInvisible(text);
  const meant = marked === undefined ? undefined : withoutThousands(marked);
  const hints = [
    ...(mixed ? [`${before} "${other === '.' ? ',' : '.'}" before the decimals`] : []),
    ...(mixed && meant !== undefined
      ? [`where "${marked}" means ${meant}, thousands are written without a mark`]
      : []),
    ...(plain === undefined ? [] : [plain]),
    ...(shown === text ? [] : ['a character that is not seen stands in it']),
  ];
  return `${name} "${shown}" is not a finite number${hints.length > 0 ? ` (${hints.join('; ')})` : ''}`;
}
