import { describe, expect, it } from 'vitest';
import { readCurveText } from '../../src/measurement/readCurveText.js';
import { readMeasurementText } from '../../src/measurement/readMeasurementText.js';
import { bytesOf, refusal, sampleRows, textOf } from './readerSamples.js';

const rows = sampleRows();
const lines = textOf(rows).trimEnd().split('\n');
/** The sample with its line 8 (from 1) replaced. */
const withLine8 = (line: string) => [...lines.slice(0, 7), line, ...lines.slice(8)].join('\n');

describe('readMeasurementText, refusals', () => {
  it.each([
    ['an empty file', '', /^room\.txt: the file is empty, expected/],
    ['a file of blank lines', '\n \n\t\n', /^room\.txt: found no rows of data, expected/],
    ['words alone', 'hello\nworld\n', /^room\.txt line 1: found "hello".*expected/],
    ['one row', '20 80 0\n', /^room\.txt: found 1 row of data, expected at least 16/],
    ['15 rows', textOf(sampleRows(15)), /^room\.txt: found 15 rows of data, expected at least 16/],
    ['one column', rows.map((r) => r.hz).join('\n'), /^room\.txt line 1: found "20".*two or three numbers/],
    [
      'four columns without a heading',
      rows.map((r) => `${r.hz} ${r.db} 0 1`).join('\n'),
      /line 1: .*4 columns.*two or three/,
    ],
    [
      'decimal commas between commas',
      textOf(
        rows.map((r) => ({ ...r, hz: r.hz + 0.5 })),
        { separator: ',', decimal: ',', columns: 2 },
      ),
      /line 1: .*semicolons/,
    ],
    ['16 rows of one frequency', Array(16).fill('100 80').join('\n'), /found only 1 frequency in 16 rows/],
    [
      'linear levels',
      `# made by hand\n\nFrequency (Hz);Pressure level (Pa)\n# one place\n${textOf(rows, { separator: ';', columns: 2 })}`,
      /line 3: found levels in "pa", expected levels in dB/,
    ],
    [
      'frequencies by the sample',
      `Frequency (rad/sample),Level (dB)\n${textOf(rows, { separator: ',', columns: 2 })}`,
      /line 1: found frequencies by the sample \("frequency \(rad\/sample\)"\).*expected Hz, kHz or rad\/s/,
    ],
    [
      'a share of a sample rate',
      `# Normalized frequency; Level (dB)\n${textOf(rows, { separator: ';', columns: 2 })}`,
      /line 1: found frequencies by the sample \("normalized-frequency"\)/,
    ],
  ])('refuses %s', (_, text, message) => {
    expect(refusal(text)).toMatch(message);
  });

  it.each([
    ['a word for a level', '107.5 abc 1', /level "abc" is not a finite number/],
    ['a word for a frequency', 'abc 80 1', /frequency "abc" is not a finite number/],
    ['a line of words', 'and so on', /frequency "and" is not/],
    ['a column missing', '107.5 80', /2 columns where the first row has 3/],
    ['a column too many', '107.5 80 1 2', /4 columns where the first row has 3/],
    ['one number', '107.5', /1 column where/],
    ['a negative frequency', '-107.5 80 1', /frequency -107\.5 is not positive;/],
    ['frequency zero', '0 80 1', /frequency 0 is not positive \(0 Hz .*leave this row out\)/],
    ['a frequency that is not a number', 'NaN 80 1', /frequency "NaN"/],
    ['an endless frequency', 'inf 80 1', /frequency "inf"/],
    ['level NaN', '107.5 NaN 1', /level "NaN" is not a finite number/],
    ['level inf', '107.5 -inf 1', /level "-inf" is not a finite number/],
    ['a level too great for a number', '107.5 1e999 1', /level "1e999" is not a finite number/],
    ['a level too great for a dB scale', '107.5 1e9 1', /level 1e9 is no level in dB/],
    ['phase NaN', '107.5 80 nan', /phase "nan" is not a finite number/],
    ['the other decimal mark', '107,5 80 1', /"107,5" is not.*rows before it have "\."/],
    ['two decimal marks', '107.5.1 80 1', /"107\.5\.1"/],
    ['thousands', '1.107,5 80 1', /"1\.107,5" .*thousands are written without a mark: 1107,5/],
    ['thousands before a point', '1,234,107.5 80 1', /rows before it .*without a mark: 1234107\.5\)/],
    ['thousands after a stroke', "1'107 80 1", /\(thousands are written without a mark: 1107\)/],
    ['thousands in a level', '107.5 1,080 1', /level "1,080" is not .*without a mark: 1080\)/],
    ['a number with a tail', '107.5Hz 80 1', /"107\.5Hz"/],
    ['half an exponent', '107.5e 80 1', /"107\.5e"/],
    ['a sign alone', '107.5 - 1', /level "-"/],
    ['two minus signs', '107.5 −−8 1', /level "−−8" is not a finite number/],
    ['a dash for a minus', '107.5 –8 1', /level "–8" is not a finite number/],
    ['an endless level with a minus sign', '107.5 −inf 1', /level "−inf"/],
    ['spaces between groups that are none', '107.5 8\u00a00 1', /level "8\u00a00" is not a finite number/],
    ['unlike spaces between groups', '1\u00a0234\u202f567 80 1', /frequency "1\u00a0234\u202f567"/],
    ['a space between decimals', '107.512\u00a0345 80 1', /frequency "107\.512\u00a0345"/],
    ['hexadecimal', '0x6B 80 1', /"0x6B"/],
    ['text after a closing quote', '"107.5"x 80 1', /line 8/],
  ])('refuses a row with %s, with file, line, what was found and what was expected', (_, line, problem) => {
    const message = refusal(withLine8(line));
    expect(message).toMatch(/^room\.txt line 8: found "/);
    expect(message).toContain(line);
    expect(message).toMatch(problem);
    expect(message).toContain('expected frequency in Hz, level in dB');
  });

  it.each(['SPL (mPa)', 'Level [uV]', 'Pressure level in Pa', 'Level (\u03bcPa)', 'Magnitude (volts)'])(
    'refuses levels that their heading has in another unit than dB: %s',
    (heading) => {
      const text = `Frequency (Hz);${heading}\n${textOf(rows, { separator: ';', columns: 2 })}`;
      expect(refusal(text)).toMatch(/^room\.txt line 1: found levels in "[^"]+", expected levels in dB/);
    },
  );

  it.each(['Level (dB re 20 µPa)', 'Level in dB re 1 V', 'SPL (dBV)', 'Gain dB/V', 'Level dB (V)/Pa'])(
    'takes decibels, whatever they are relative to: %s',
    (heading) => {
      const text = `Frequency (Hz);${heading}\n${textOf(rows, { separator: ';', columns: 2 })}`;
      expect(readMeasurementText(bytesOf(text), 'room.txt').rows).toBe(rows.length);
    },
  );

  describe('whole frequencies with a mark between the thousands', () => {
    const hz = Array.from({ length: 40 }, (_, i) => Math.round(20 * 10 ** (i / 13)));
    const marked = (mark: string) => (f: number) => String(f).replace(/\B(?=(\d{3})+$)/, mark);
    const text = (frequencies: readonly string[]) => frequencies.map((f) => `${f}\t80\n`).join('');

    it.each([',', '.'])('are refused where others have none, and not read as decimals: "%s"', (mark) => {
      const up = hz.map(marked(mark));
      const first = up.findIndex((f) => f.includes(mark));
      const words = /its frequency has a mark between the thousands.*expected frequencies without one/;
      expect(refusal(text(up))).toMatch(words);
      expect(refusal(text(up))).toContain(`line ${first + 1}: found "${up[first]} 80"`);
      expect(refusal(text(up.toReversed()))).toMatch(words);
      expect(refusal(text(up.toReversed()))).toContain('line 1: ');
    });

    it('are told from kilohertz with three decimals, in order as they stand, and from rows in no order', () => {
      const kHz = hz.map((f) => (f % 1000 === 0 ? String(f / 1000) : (f / 1000).toFixed(3)));
      for (const frequencies of [kHz, hz.map((f) => f.toFixed(3)), ['3.125', ...hz.map(String), '2.5']]) {
        expect(readMeasurementText(bytesOf(text(frequencies)), 'room.txt').rows).toBe(frequencies.length);
      }
      const mixed = ['1.250', '500', '1.125', '20', ...hz.map(String)];
      expect(readMeasurementText(bytesOf(text(mixed)), 'room.txt').rows).toBe(mixed.length);
    });
  });

  it.each([
    ["20'000.0 80.5", '"20\'000.0" is not a number (thousands are written without a mark: 20000.0)'],
    ['20,000.0 80.5', '"20,000.0" is not a number (thousands are written without a mark: 20000.0)'],
    ['20000Hz 80.5', '"20000Hz" is not a number;'],
    ['20kHz 80.5', '"20kHz" is not a number;'],
  ])(
    'does not take the first rows for a heading where their frequency cannot be read: %s',
    (row, problem) => {
      const falling = textOf(rows.toReversed(), { columns: 2 });
      for (const heading of ['', 'Hz dB\n']) {
        const message = refusal(`${heading}${row}\n${falling}`);
        expect(message).toContain(`room.txt line ${heading === '' ? 1 : 2}: found "${row}": ${problem}`);
      }
      expect(readMeasurementText(bytesOf(`${row.split(' ')[0]} reference\n${falling}`), 'x').rows).toBe(20);
    },
  );

  it.each([
    ['a space', ['2 500\t80', '1 016\t81'], '992\t82'],
    ['a comma', ['2,500,80.5', '1,016,81.5'], '992,82.5'],
  ])('says of a falling list whose thousands part columns by %s why it ends at 1 kHz', (_, above, below) => {
    const problem = refusal(`${above.join('\n')}\n${Array.from({ length: 20 }, () => below).join('\n')}\n`);
    expect(problem).toContain(
      `room.txt line 3: found "${below.replaceAll('\t', ' ')}": it has 2 columns where the first row has 3 ` +
        '(in the rows before it a mark or space between the thousands parts columns; thousands are written without)',
    );
  });

  it('says nothing of thousands where a row has lost its phase', () => {
    const lost = ['2500 80 -10', '1016 81 -5', '992 82', ...Array.from({ length: 20 }, () => '992 82 1')];
    expect(refusal(lost.join('\n'))).toMatch(/where the first row has 3;/);
  });

  it.each([
    ['1 016\t81', '\t'],
    ['1,016,81.5', ','],
  ])('says why a row has a column more where its thousands part columns: %s', (row, separator) => {
    const below = textOf(rows, { separator, columns: 2 });
    expect(refusal(`${below}${row}\n`)).toContain(
      `line 21: found "${row.replace('\t', ' ')}": it has 3 columns where the first row has 2 (thousands are written without a mark or space);`,
    );
    expect(refusal(`${below}1016.5${separator}81${separator}90\n`)).toContain('where the first row has 2;');
  });

  it.each([
    ['1,016,81.5,-90', ',', '1,016'],
    ['1 016 81.5 -90', ' ', '1 016'],
    ['1,016,81.5,-90,0.9', ',', '1,016'],
    ['1 016 81.5 -90 0.9', ' ', '1 016'],
  ])('speaks of thousands where they make more columns than there can be: %s', (row, separator, both) => {
    const above = `${row}\n`.repeat(20);
    const columns = row.split(separator).length;
    expect(refusal(above)).toContain(
      `room.txt line 1: found "${row}": it has ${columns} columns and no heading names them ` +
        `(where "${both}" is one frequency: thousands are written without a mark or space); expected two or three`,
    );
    const others = `${row.replace(both, `101.6${separator}80.5`)}\n`.repeat(20);
    expect(refusal(others)).toMatch(/no heading names them; expected/);
  });

  it.each(['20.5 Hz 80.5 dB', '20.000 Hz 80.5', '20.5Hz 80.5dB', '20.5\t80.5 dB'])(
    'speaks of units that stand in all rows, not of thousands: %s',
    (row) => {
      const message = refusal(`${row}\n`.repeat(20));
      expect(message).toMatch(/^room\.txt line 1: found "20.*\(units are left out of the rows\)/);
      expect(message).not.toMatch(/thousands/);
    },
  );

  it('shows a character in a row that nobody sees', () => {
    const two = `${textOf(rows)}\ufeff${textOf(rows)}`;
    const message = refusal(two);
    expect(message).toContain(
      'room.txt line 21: found "<U+FEFF>20 80.25 0": frequency "<U+FEFF>20" is not a',
    );
    expect(message).toContain('(a character that is not seen stands in it)');
    expect(refusal(withLine8('107\u00ad.5 80 1'))).toContain('"107<U+00AD>.5"');
  });

  it('says what to do where all rows have a mark between the thousands', () => {
    const marked = rows.map((_, i) => `${i + 1}'016 80.5\n`).join('');
    expect(refusal(`freq level\n${marked}`)).toMatch(
      /line 2: found "1'016 80\.5": .*\(thousands are written without a mark: 1016\)/,
    );
  });

  it.each([
    [' ', '\t'],
    [',', ','],
  ])('does not take thousands for a column of their own: 1%s016%s80.5', (mark, separator) => {
    const above = rows.map(
      (_, i) => `${i + 1}${mark}${String(16 + 50 * i).padStart(3, '0')}${separator}80.5\n`,
    );
    expect(refusal(above.join(''))).toMatch(
      /^room\.txt line 1: found "1[ ,]016[ ,]80\.5": its frequency has a mark or a space between the thousands.*expected frequencies without one/,
    );
    // Three digits alone may be a level.
    const loud = rows.map((_, i) => `${i + 1}${separator}${100 + i}${separator}80.5\n`).join('');
    expect(readMeasurementText(bytesOf(loud), 'x').curve.levelDb[0]).toBe(100);
  });

  describe('frequencies that all have three digits after a mark', () => {
    const hz = Array.from({ length: 30 }, (_, i) => Math.round(1016 * 20 ** (i / 29)));
    const text = (frequencies: readonly string[], level = '81') =>
      frequencies.map((f) => `${f}\t${level}\n`).join('');

    it.each([
      [',', '81'],
      ['.', '81'],
      [',', '81,5'],
    ])('are refused where they would be a few hertz: "%s" beside %s', (mark, level) => {
      const up = hz.map((f) => String(f).replace(/(\d{3})$/, `${mark}$1`));
      for (const frequencies of [up, up.toReversed()]) {
        expect(refusal(text(frequencies, level))).toBe(
          `room.txt line 1: found "${frequencies[0]} ${level}": its frequency and all others have three digits after a mark, ` +
            'as if they were 1.016 to 20.32 Hz; expected frequencies in Hz without a mark between the thousands, such as ' +
            '1016 or 20000, or a heading that names their unit, such as "frequency (kHz)"',
        );
      }
    });

    it('are read where a heading says kHz, and where they are the hertz of a subwoofer', () => {
      const decimals = (from: number) => hz.map((f) => ((from * f) / 1016).toFixed(3));
      const inKiloHertz = readMeasurementText(
        bytesOf(`frequency (kHz)\tlevel\n${text(decimals(1.016))}`),
        'x',
      );
      expect(inKiloHertz.curve.frequencyHz[0]).toBe(1016);
      for (const from of [10, 5]) {
        const { curve } = readMeasurementText(bytesOf(text(decimals(from))), 'x');
        expect(curve.frequencyHz[0]).toBe(from);
      }
    });
  });

  it('tells of a mark in the very row that it stands in', () => {
    expect(refusal(Array(20).fill('20,000\t81.5').join('\n'))).toMatch(
      /line 1: .*level "81\.5" is not a finite number \(what stands before it has "," before the decimals; where "20,000" means 20000, thousands are written without a mark\)/,
    );
  });

  it('counts lines over comments and every kind of line end', () => {
    for (const end of ['\n', '\r\n', '\r']) {
      const text = ['# one', '', '; three', ...lines, '30 x 1'].join(end);
      expect(refusal(text)).toMatch(/^room\.txt line 24: found "30 x 1"/);
    }
  });

  it.each([
    ['-20 80 1', /line 1: .*frequency -20 is not positive/],
    ['0 80 1', /line 1: .*frequency 0 is not positive/],
    ['20 NaN 1', /line 1: .*level "NaN"/],
    ['20 8O 1', /line 1: .*"8O" is not a number/],
  ])('the very first row is refused as well and not taken for a heading: %j', (line, message) => {
    expect(refusal(`${line}\n${lines.join('\n')}`)).toMatch(message);
  });

  it('shows a long line shortened and control characters as blanks', () => {
    const message = refusal(withLine8(`107.5 \u0085${'x'.repeat(500)} 1`));
    expect(message).toMatch(/line 8: found "107\.5 {1,2}x+…"/);
    expect(message.length).toBeLessThan(900);
  });

  it.each([
    [
      'a picture',
      Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 13, 10, 0x1a, 10, 0, 0, 0, 13),
      /found binary data \(byte 0x00 at position 8\)/,
    ],
    ['an archive', Uint8Array.of(0x50, 0x4b, 3, 4, 20, 0), /found binary data/],
    ['a WAV file', bytesOf('RIFF\u0024\u0000\u0000\u0000WAVEfmt '), /binary data.*WAV file/],
    ['noughts', new Uint8Array(5000), /found binary data \(byte 0x00 at position 0\)/],
    [
      'binary data after a line of text',
      bytesOf(`# text\r\n20 80\n30 81${'\u0000\u0001\u0002'.repeat(9)}\n40 82\n`),
      /^room\.txt line 3: found binary data \(byte 0x00 at position 19\), expected a text file/,
    ],
  ])('refuses %s as binary', (_, bytes, message) => {
    expect(refusal(bytes)).toMatch(message);
  });

  it('says which form of Unicode it does not read, and that one is cut off', () => {
    const units = (width: 2 | 4, text: string) =>
      Uint8Array.from(
        [...text].flatMap((c) => [c.charCodeAt(0) & 255, c.charCodeAt(0) >> 8, 0, 0].slice(0, width)),
      );
    const wide = units(4, `\ufeff${textOf(rows)}`);
    const narrow = units(2, `\ufeff${textOf(rows)}`);
    for (const bytes of [wide, wide.map((_, i) => wide[i ^ 3]!)])
      expect(refusal(bytes)).toMatch(/^room\.txt: found text in UTF-32, expected .* UTF-8 or UTF-16$/);
    expect(readMeasurementText(narrow, 'x').rows).toBe(rows.length);
    for (const bytes of [narrow, narrow.map((_, i) => narrow[i ^ 1]!)])
      expect(refusal(bytes.subarray(0, -1))).toMatch(
        /^room\.txt: found text in UTF-16 that ends in the middle/,
      );
  });

  it('takes a calibration of fewer rows', () => {
    expect(readCurveText(bytesOf(textOf(sampleRows(5))), 'x').rows).toBe(5);
    expect(() => readCurveText(bytesOf('100 1\n'), 'x')).toThrow(/found 1 row of data, expected at least 2/);
  });

  it('takes 16 rows and 2,000,000, and refuses one more with its line', () => {
    expect(readMeasurementText(bytesOf(textOf(sampleRows(16))), 'x').rows).toBe(16);
    const head = bytesOf(textOf(sampleRows(16), { columns: 2 }));
    const row = bytesOf('900 88\n');
    const big = new Uint8Array(head.length + 1_999_985 * row.length);
    big.set(head);
    for (let i = head.length; i < big.length; i += row.length) big.set(row, i);
    expect(readMeasurementText(big.subarray(0, -row.length), 'x').rows).toBe(2_000_000);
    expect(refusal(big)).toMatch(/^room\.txt line 2000001: .*expected at most 2000000 rows/);
  });
});
