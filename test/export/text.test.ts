import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { csvField } from '../../src/export/tables/csvField.js';
import { cleanText } from '../../src/export/words/cleanText.js';
import { columnDecimals } from '../../src/export/words/columnDecimals.js';
import { errorPair } from '../../src/export/words/errorPair.js';
import { fixedDecimals } from '../../src/export/words/fixedDecimals.js';
import { formatDb, formatSignedDb } from '../../src/export/words/formatDb.js';
import { formatInputGain } from '../../src/export/words/formatInputGain.js';
import { joinWords } from '../../src/export/words/joinWords.js';
import { padTable } from '../../src/export/words/padTable.js';
import { shorten } from '../../src/export/words/shorten.js';
import { smoothingWords } from '../../src/export/words/smoothingWords.js';
import { typeset } from '../../src/export/words/typeset.js';
import { wrapText } from '../../src/export/words/wrapText.js';
import { formatFrequency } from '../../src/units/formatFrequency.js';

const seed = { seed: 20240611 };

describe('cleanText', () => {
  test('leaves ordinary text in any script as it is', () => {
    for (const text of [
      'Left speaker, 1.5 m',
      'Lautsprecher über dem Tisch',
      '左スピーカー',
      'شمال',
      '🔊 loud',
    ]) {
      expect(cleanText(text)).toBe(text);
    }
  });

  test('takes out terminal escapes, line ends, reversing marks and lone surrogates', () => {
    expect(cleanText('a\u001b[31mb\r\nc\u202ed\ud800e\u0000f\u009bg\u2028h')).toBe('a [31mb c d e f g h');
  });

  test('leaves nothing that XML 1.0 forbids, whatever comes in', () => {
    // XML 1.0, production [2] Char, less the tab and the line ends.
    const allowed = /^[\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]*$/u;
    const units = fc.array(fc.integer({ min: 0, max: 0xffff }), { maxLength: 40 });
    fc.assert(
      fc.property(units, (codes) => {
        expect(cleanText(String.fromCharCode(...codes))).toMatch(allowed);
      }),
      { ...seed, numRuns: 500 },
    );
  });
});

describe('numbers for reading', () => {
  test('frequencies have three significant digits and change to kHz where rounding carries them there', () => {
    const expected: [number, string][] = [
      [61.2345, '61.2 Hz'],
      [55, '55 Hz'],
      [297.4, '297 Hz'],
      [999.4, '999 Hz'],
      [999.6, '1 kHz'],
      [1254, '1.25 kHz'],
      [16000, '16 kHz'],
    ];
    for (const [hz, text] of expected) expect(formatFrequency(hz)).toBe(text);
  });

  test('a small negative number is written as zero without a sign', () => {
    expect(fixedDecimals(-0.04, 1)).toBe('0.0');
    expect(formatSignedDb(-0.04)).toBe('0.0 dB');
    expect(formatSignedDb(0.04)).toBe('0.0 dB');
  });

  test('a change carries its sign, a level only a minus', () => {
    expect(formatSignedDb(2)).toBe('+2.0 dB');
    expect(formatSignedDb(-6.24)).toBe('-6.2 dB');
    expect(formatDb(3.94)).toBe('3.9 dB');
  });

  test('a column has the decimals of the number that needs most, up to the limit', () => {
    expect(columnDecimals([61.2, 120, 8012.75], 3)).toEqual(['61.20', '120.00', '8012.75']);
    expect(columnDecimals([100, 200], 3)).toEqual(['100', '200']);
    expect(columnDecimals([1 / 3], 3)).toEqual(['0.333']);
    expect(columnDecimals([], 3)).toEqual([]);
    expect(columnDecimals([183.06000000000006, 1401.8000000000004], 3)).toEqual(['183.06', '1401.80']);
  });

  test('the input gain keeps all its digits', () => {
    expect(formatInputGain(-2.85)).toBe('-2.85 dB');
    expect(formatInputGain(-3)).toBe('-3 dB');
    expect(formatInputGain(-0)).toBe('0 dB');
  });

  test('two errors get a second decimal only where the first does not tell them apart', () => {
    expect(errorPair(3.91, 0.84)).toEqual({ before: '3.9', after: '0.8' });
    expect(errorPair(0.84, 0.81)).toEqual({ before: '0.84', after: '0.81' });
    expect(errorPair(0.84, 0.84)).toEqual({ before: '0.8', after: '0.8' });
  });

  test('smoothing is said as a fraction of an octave', () => {
    expect(smoothingWords(1 / 12)).toBe('1/12 octave');
    expect(smoothingWords(1 / 3)).toBe('1/3 octave');
    expect(smoothingWords(1)).toBe('1 octave');
    expect(smoothingWords(0)).toBe('not at all');
  });
});

describe('typeset', () => {
  test('puts a minus before numbers only and holds number and unit together', () => {
    expect(typeset('-6.2 dB at 297 Hz, low-frequency, 0-10, (-3 dB)')).toBe(
      '\u22126.2\u00a0dB at 297\u00a0Hz, low-frequency, 0-10, (\u22123\u00a0dB)',
    );
    expect(typeset('move it 16 cm in 2 minutes')).toBe('move it 16\u00a0cm in 2 minutes');
  });
});

describe('wrapText', () => {
  test('loses no word, keeps the width and indents what follows', () => {
    const word = fc.stringMatching(/^[a-z]{1,9}$/);
    fc.assert(
      fc.property(
        fc.array(word, { minLength: 1, maxLength: 60 }),
        fc.integer({ min: 12, max: 60 }),
        (words, width) => {
          const lines = wrapText(words.join(' '), width, '  ').split('\n');
          expect(lines.join(' ').split(/ +/).filter(Boolean)).toEqual(words);
          lines.forEach((line, i) => {
            expect(line.length).toBeLessThanOrEqual(width);
            expect(line.startsWith('  ')).toBe(i > 0);
          });
        },
      ),
      seed,
    );
  });
});

describe('small tools', () => {
  test('csvField quotes by RFC 4180 where it must and nowhere else', () => {
    expect(csvField('plain (dB)')).toBe('plain (dB)');
    expect(csvField('a,b')).toBe('"a,b"');
    expect(csvField('say "x"')).toBe('"say ""x"""');
    expect(csvField('a\r\nb')).toBe('"a\r\nb"');
  });

  test('joinWords puts commas and one "and"', () => {
    expect([[], ['a'], ['a', 'b'], ['a', 'b', 'c']].map(joinWords)).toEqual([
      '',
      'a',
      'a and b',
      'a, b and c',
    ]);
  });

  test('shorten never cuts a character in two', () => {
    expect(shorten('🔊🔊🔊🔊', 3)).toBe('🔊🔊…');
    expect(shorten('abc', 3)).toBe('abc');
  });

  test('padTable aligns each column and ends no line with blanks', () => {
    expect(
      padTable([
        { heading: 'No.', align: 'right', cells: ['1', '10'] },
        { heading: 'Type', align: 'left', cells: ['Peaking', 'Low'] },
      ]),
    ).toEqual(['No.  Type', '  1  Peaking', ' 10  Low']);
  });
});
