const DECIMAL = /^[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:e[+-]?\d+)?$/i;
const FRACTION = /^([+-]?)(?:(\d+) )?(\d+)\/(\d+)$/;
/** "1,000" may be one or a thousand. */
const AMBIGUOUS = /^[+-]?[1-9]\d{0,2},\d{3}$/;

/**
 * A number as a person writes it: "12", "-0.8", "2,5", "1e3", "3/4", "11 1/2".
 *
 * @returns undefined where it is no number, or where it could be two ("1,000")
 */
export function readNumber(text: string): number | undefined {
  const fraction = FRACTION.exec(text);
  if (fraction) {
    const [, sign, whole = '0', over, under] = fraction;
    const size = Number(whole) + Number(over) / Number(under);
    return Number.isFinite(size) ? (sign === '-' ? -size : size) : undefined;
  }
  if (!DECIMAL.test(text) || AMBIGUOUS.test(text)) return undefined;
  const value = Number(text.replace(',', '.'));
  return Number.isFinite(value) ? value : undefined;
}
