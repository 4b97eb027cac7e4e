import { InputError } from '../../src/inputError.js';
import { readMeasurementText } from '../../src/measurement/readMeasurementText.js';

const utf8 = new TextEncoder();

export const bytesOf = (text: string): Uint8Array => utf8.encode(text);

export const read = (text: string) => readMeasurementText(bytesOf(text), 'room.txt');

/** The message with which a text is refused; fails where it is read, or where the error is a fault of ours. */
export function refusal(input: string | Uint8Array): string {
  try {
    readMeasurementText(typeof input === 'string' ? bytesOf(input) : input, 'room.txt');
  } catch (error) {
    if (error instanceof InputError) return error.message;
    throw error;
  }
  throw new Error('was read, a refusal was expected');
}

export interface Row {
  readonly hz: number;
  readonly db: number;
  readonly deg?: number;
}

/** Invented rows with distinct numbers. */
export function sampleRows(count = 20): Row[] {
  return Array.from({ length: count }, (_, i) => ({
    hz: 20 + 12.5 * i,
    db: 80.25 - 0.75 * i,
    deg: -10.5 * i,
  }));
}

export interface Style {
  readonly separator: string;
  readonly decimal: string;
  readonly lineEnd: string;
  readonly columns: 2 | 3;
}

export const plainStyle: Style = { separator: ' ', decimal: '.', lineEnd: '\n', columns: 3 };

export function textOf(rows: readonly Row[], style: Partial<Style> = {}): string {
  const { separator, decimal, lineEnd, columns } = { ...plainStyle, ...style };
  const number = (v: number) => String(v).replace('.', decimal);
  return rows
    .map(({ hz, db, deg }) => [hz, db, deg ?? 0].slice(0, columns).map(number).join(separator) + lineEnd)
    .join('');
}
