import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseDecimal } from '../../src/measurement/parseDecimal.js';
import { bytesOf } from './readerSamples.js';

const parse = (text: string) => parseDecimal(bytesOf(text), 0, bytesOf(text).length, { byte: 0 });

describe('parseDecimal', () => {
  it('rounds every decimal number as the language itself does', () => {
    fc.assert(
      fc.property(
        fc.double({ noNaN: true, noDefaultInfinity: true }),
        fc.integer({ min: 1, max: 17 }),
        (v, digits) => {
          for (const text of [String(v), v.toExponential(), v.toPrecision(digits)]) {
            const expected = Number(text);
            expect(parse(text), text).toBe(Number.isFinite(expected) ? expected : Number.NaN);
          }
        },
      ),
      { seed: 20, numRuns: 2000 },
    );
  });

  it.each(['−5', '−0.5', '1e−7', '−123456789012345678.5e−30', '−.5'])(
    'reads the minus sign of %s',
    (text) => {
      expect(parse(text)).toBe(Number(text.replaceAll('−', '-')));
    },
  );

  it.each([
    '0',
    '-0',
    '+5',
    '.5',
    '5.',
    '007.50',
    '1E3',
    '1e-07',
    '123456789012345678901234567890',
    '0.000000000000000000000001234',
    '9007199254740993',
  ])('reads %s', (text) => {
    expect(parse(text)).toBe(Number(text));
  });

  it.each([
    '',
    '-',
    '+',
    '.',
    ',',
    'e5',
    '1e',
    '1e+',
    '1 2',
    '1.2.3',
    '1,2.3',
    '0x10',
    'Infinity',
    'NaN',
    '1e999',
    '--1',
    '1-',
    '１',
  ])('refuses %j', (text) => {
    expect(parse(text)).toBeNaN();
  });

  it('settles on the first decimal mark it meets', () => {
    const mark = { byte: 0 as const };
    const text = bytesOf('1,5 2,5 3.5 4');
    expect(parseDecimal(text, 0, 3, mark)).toBe(1.5);
    expect(parseDecimal(text, 4, 7, mark)).toBe(2.5);
    expect(parseDecimal(text, 8, 11, mark)).toBeNaN();
    expect(parseDecimal(text, 12, 13, mark)).toBe(4);
  });
});
