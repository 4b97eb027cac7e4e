import { describe, expect, it } from 'vitest';
import { isMarkedSimulated } from '../../src/measurement/isMarkedSimulated.js';
import { readMeasurementText } from '../../src/measurement/readMeasurementText.js';
import { bytesOf, read, sampleRows, textOf } from './readerSamples.js';

const rows = sampleRows();
const hertz = Float64Array.from(rows, (r) => r.hz);
const decibels = Float64Array.from(rows, (r) => r.db);

function utf16(text: string, endian: 'little' | 'big'): Uint8Array {
  const view = new DataView(new ArrayBuffer(2 * text.length));
  for (let i = 0; i < text.length; i++) view.setUint16(2 * i, text.charCodeAt(i), endian === 'little');
  return new Uint8Array(view.buffer);
}

describe('readMeasurementText, layouts', () => {
  it.each([
    ['space', textOf(rows)],
    ['runs of spaces, indented', textOf(rows, { separator: '    ' }).replaceAll(/^/gm, '  ')],
    ['tab', textOf(rows, { separator: '\t' })],
    ['tab and decimal comma', textOf(rows, { separator: '\t', decimal: ',' })],
    ['space and decimal comma', textOf(rows, { decimal: ',' })],
    ['comma', textOf(rows, { separator: ',' })],
    ['comma and space', textOf(rows, { separator: ', ' })],
    ['semicolon', textOf(rows, { separator: ';' })],
    ['semicolon and decimal comma', textOf(rows, { separator: ';', decimal: ',' })],
    ['semicolon with blanks and decimal comma', textOf(rows, { separator: ' ; ', decimal: ',' })],
    ['a separator after the last column', textOf(rows, { separator: ';' }).replaceAll('\n', ';\n')],
    ['CR LF', textOf(rows, { lineEnd: '\r\n' })],
    ['CR alone', textOf(rows, { lineEnd: '\r' })],
    ['no line end after the last row', textOf(rows).trimEnd()],
    ['blank lines between', textOf(rows).replaceAll('\n', '\n\n')],
    ['a byte-order mark', `\ufeff${textOf(rows)}`],
    ['descending', textOf(rows.toReversed())],
    ['no order', textOf([...rows.slice(7), ...rows.slice(0, 7).toReversed()])],
    ['quoted fields', textOf(rows, { separator: ',' }).replaceAll(/[^,\n]+/g, '"$&"')],
    [
      'quoted fields with decimal commas',
      textOf(rows, { separator: ';', decimal: ',' })
        .replaceAll(/[^;\n]+/g, '"$&"')
        .replaceAll(';', ','),
    ],
    ['the minus sign of typesetters', textOf(rows).replaceAll('-', '\u2212')],
    ['spaces that hold a line together', textOf(rows, { separator: '\u00a0;\u00a0' })],
    [
      'such spaces at the ends of lines',
      textOf(rows, { lineEnd: '\u00a0\n' }).replaceAll(/^(?=.)/gm, '\u202f'),
    ],
    ['a note after the row', textOf(rows).replaceAll('\n', ' # fine\n')],
  ])('understands: %s', (_, text) => {
    const { curve, rows: count } = read(text);
    expect(curve.frequencyHz).toEqual(hertz);
    expect(curve.levelDb).toEqual(decibels);
    expect(curve.phaseRad?.[1]).toBeCloseTo((-10.5 * Math.PI) / 180, 12);
    expect(count).toBe(20);
  });

  it.each([
    ['no-break', '\u00a0'],
    ['narrow no-break', '\u202f'],
    ['thin', '\u2009'],
    ['figure', '\u2007'],
  ])('understands a %s space between the thousands, as spreadsheets write it', (_, space) => {
    const grouped = (v: number) =>
      v
        .toFixed(1)
        .replace(/\B(?=(\d{3})+\.)/g, space)
        .replace('.', ',');
    for (const separator of ['\t', ' ', ';']) {
      const { curve } = read(
        rows.map(({ hz, db }) => `${grouped(100 * hz)}${separator}${db}\n`.replace(/\./g, ',')).join(''),
      );
      expect(curve.frequencyHz).toEqual(hertz.map((hz) => 100 * hz));
      expect(curve.levelDb).toEqual(decibels);
    }
  });

  it('understands it in the code page of old spreadsheets, and a plain space where semicolons part the columns', () => {
    const text = (space: string) =>
      rows.map(({ db }, i) => `${i + 1}${space}000,5;${db}\n`.replace('.', ',')).join('');
    const bytes = Uint8Array.from(text('\u00a0'), (letter) => letter.charCodeAt(0));
    for (const { curve } of [readMeasurementText(bytes, 'x'), read(text(' '))]) {
      expect([...curve.frequencyHz.subarray(0, 2)]).toEqual([1000.5, 2000.5]);
      expect(curve.levelDb).toEqual(decibels);
    }
  });

  it('understands two columns, which have no phase', () => {
    const { curve } = read(textOf(rows, { columns: 2 }));
    expect(curve.levelDb).toEqual(decibels);
    expect(curve.phaseRad).toBeUndefined();
  });

  it('understands exponents, signs and missing zeros', () => {
    const text = rows
      .map(
        ({ hz, db }) =>
          `+${hz.toExponential().toUpperCase()} ${(db / 100).toString().replace('0.', '.')}e+2\n`,
      )
      .join('');
    const { curve } = read(text);
    expect(curve.frequencyHz).toEqual(hertz);
    curve.levelDb.forEach((l, i) => {
      expect(l).toBeCloseTo(decibels[i]!, 12);
    });
  });

  it.each([
    [
      'UTF-16, little end first',
      utf16(`\ufeff# Größe\n${textOf(rows, { separator: ';', decimal: ',' })}`, 'little'),
    ],
    [
      'UTF-16, big end first',
      utf16(`\ufeff# Größe\n${textOf(rows, { separator: ';', decimal: ',' })}`, 'big'),
    ],
  ])('decodes %s', (_, bytes) => {
    const { curve, comments } = readMeasurementText(bytes, 'room.txt');
    expect(curve.frequencyHz).toEqual(hertz);
    expect(comments).toEqual(['Größe']);
  });

  it('decodes UTF-16 without a mark', () => {
    expect(readMeasurementText(utf16(textOf(rows), 'little'), 'x').curve.levelDb).toEqual(decibels);
    expect(readMeasurementText(utf16(textOf(rows), 'big'), 'x').curve.levelDb).toEqual(decibels);
  });

  it('shows comments of the old western code page as they were meant', () => {
    const bytes = Uint8Array.of(...bytesOf('# 20 '), 0xb0, ...bytesOf(`C\n${textOf(rows)}`));
    expect(readMeasurementText(bytes, 'x').comments).toEqual(['20 °C']);
  });
});

describe('readMeasurementText, headings and comments', () => {
  it('keeps comment and heading lines without their markers, before, between and after the data', () => {
    const [first, ...rest] = textOf(rows).trimEnd().split('\n');
    const text = `# Simulated room\n; second\n// third\nA line of words\n\n${first}\n# between\n${rest.join('\n')}\n# the end\n`;
    const measurement = read(text);
    expect(measurement.comments).toEqual([
      'Simulated room',
      'second',
      'third',
      'A line of words',
      'between',
      'the end',
    ]);
    expect(measurement.rows).toBe(20);
    expect(isMarkedSimulated(measurement)).toBe(true);
  });

  it('a measurement that does not say so is not simulated', () => {
    expect(isMarkedSimulated(read(`# measured on a desk\n${textOf(rows)}`))).toBe(false);
    expect(isMarkedSimulated(read(`# not simulated\n${textOf(rows)}`))).toBe(false);
  });

  const kilohertz = rows.map((r) => ({ ...r, hz: r.hz / 1000 }));
  it.each([
    ['Frequency (kHz)\tLevel (dB)\tPhase (deg)', '\t'],
    ['# freq in kHz, level in dB, phase in degrees', ' '],
    ['f/kHz;Pegel/dB;Phase/°', ';'],
    ['"Frequency [kHz]","SPL [dB]","Phase [deg]"', ','],
    ['kHz dB deg', ' '],
    ['* Freq(kHz) SPL(dB) Phase(degrees)', ' '],
    ['Frequency;Level;Phase\nkHz;dB;deg', ';'],
    ['Fréquence (kHz) | Niveau (dB) | Phase (°)', ' '],
  ])('a heading that names kHz is followed: %j', (heading, separator) => {
    const { curve } = read(`${heading}\n${textOf(kilohertz, { separator })}`);
    curve.frequencyHz.forEach((f, i) => {
      expect(f).toBeCloseTo(hertz[i]!, 9);
    });
    expect(curve.phaseRad?.[1]).toBeCloseTo((-10.5 * Math.PI) / 180, 12);
  });

  // ISO 80000-3: angular frequency is 2π times the frequency, in radians a second (from memory).
  const radians = rows.map((r) => ({ ...r, hz: 2 * Math.PI * r.hz }));
  it.each([
    ['Frequency (rad/s)\tLevel (dB)\tPhase (deg)', '\t'],
    ['Angular frequency [rad/s];Magnitude [dB];Phase [deg]', ';'],
    ['omega (rad/sec),Gain (dB),Phase (deg)', ','],
    ['ω;Level;Phase', ';'],
    ['# angular frequency, level, phase', ' '],
    ['rad/s dB deg', ' '],
    ['Frequency in radians per second, level in dB, phase in degrees', ','],
    ['Frequency;Level;Phase\nrad/s;dB;deg', ';'],
    ['w (rad·s⁻¹) | Level (dB) | Phase (°)', ' '],
  ])('a heading that names radians a second is followed: %j', (heading, separator) => {
    const { curve } = read(`${heading}\n${textOf(radians, { separator })}`);
    curve.frequencyHz.forEach((f, i) => {
      expect(f / hertz[i]!).toBeCloseTo(1, 9);
    });
    expect(curve.phaseRad?.[1]).toBeCloseTo((-10.5 * Math.PI) / 180, 12);
  });

  it('thousands of radians a second too, while phase in radians and an "angular frequency" in Hz change nothing', () => {
    const kilo = radians.map((r) => ({ ...r, hz: r.hz / 1000 }));
    const krad = read(`Frequency (krad/s),Level (dB),Phase (deg)\n${textOf(kilo, { separator: ',' })}`);
    expect(krad.curve.frequencyHz[5]! / hertz[5]!).toBeCloseTo(1, 9);
    for (const heading of ['Angular frequency (Hz),Level (dB),Phase (deg)', 'Frequency,SPL,Phase (rad)'])
      expect(read(`${heading}\n${textOf(rows, { separator: ',' })}`).curve.frequencyHz).toEqual(hertz);
  });

  it('a heading that puts level before frequency is followed', () => {
    const text = `SPL (dB), Frequency (Hz)\n${rows.map((r) => `${r.db}, ${r.hz}`).join('\n')}`;
    const { curve } = read(text);
    expect(curve.frequencyHz).toEqual(hertz);
    expect(curve.levelDb).toEqual(decibels);
  });

  it('phase in radians is understood where the heading says so', () => {
    const { curve } = read(
      `freq(Hz) level(dB) phase(rad)\n${rows.map((r, i) => `${r.hz} ${r.db} ${-0.1 * i}`).join('\n')}`,
    );
    expect(curve.phaseRad?.[3]).toBeCloseTo(-0.3, 12);
  });

  it.each([
    '# Level versus frequency, 20 Hz to 20 kHz',
    'SPL over frequency',
    '# range 0.02 kHz, to 20 kHz, level 80 dB',
    '# response at 1 m; frequency up to 20 kHz; level 80 dB; phase kept',
    '# Angular response level',
    '# Angular frequency response',
    '# Omega level',
  ])('prose that only mentions units and columns changes nothing: %j', (prose) => {
    const { curve } = read(`${prose}\n${textOf(rows)}`);
    expect(curve.frequencyHz).toEqual(hertz);
    expect(curve.levelDb).toEqual(decibels);
  });

  it.each([
    '# Normalized frequency response',
    '# normalised frequency response (dB)',
    '# Angular frequency response',
    '# Omega level',
  ])('nor does a title over two columns: %j', (title) => {
    const { curve } = read(`${title}\n${textOf(rows, { columns: 2 })}`);
    expect(curve.frequencyHz).toEqual(hertz);
  });

  it('ohms are no angular frequency, though Ω is a great ω', () => {
    const text = rows.map((r) => `8,${r.hz},${r.db}`).join('\n');
    const { curve } = read(`Impedance (Ω),Frequency (Hz),Level (dB)\n${text}`);
    expect(curve.frequencyHz).toEqual(hertz);
    expect(curve.levelDb).toEqual(decibels);
  });

  it('named columns that are neither frequency, level nor phase are left out, with a warning', () => {
    const text = `Frequency,Level,Coherence,Phase\n${rows.map((r) => `${r.hz},${r.db},0.9,${r.deg}`).join('\n')}`;
    const { curve, warnings } = read(text);
    expect(curve.phaseRad?.[1]).toBeCloseTo((-10.5 * Math.PI) / 180, 12);
    expect(warnings.map((w) => w.code)).toEqual(['column-ignored']);
    expect(warnings[0]!.message).toContain('coherence');
  });

  it('a third column that the heading calls something else is no phase', () => {
    const { curve } = read(`Frequency,Level,Coherence\n${textOf(rows, { separator: ',' })}`);
    expect(curve.phaseRad).toBeUndefined();
  });

  it('four columns under a heading of single words are told apart', () => {
    const text = rows.map((r) => `${r.hz} ${r.db} ${r.deg} 0.9\n`).join('');
    const { curve, warnings } = read(`Frequency Magnitude Phase Coherence\n${text}`);
    expect(curve.levelDb).toEqual(decibels);
    expect(curve.phaseRad?.[1]).toBeCloseTo((-10.5 * Math.PI) / 180, 12);
    expect(warnings.map((w) => w.code)).toEqual(['column-ignored']);
  });

  it('columns named after angles or sides are levels and no phase; the first of them is used', () => {
    for (const heading of ['Frequency (Hz);0°;30°', 'Frequency;Left;Right', '* f/Hz ; desk ; stand']) {
      const { curve, warnings } = read(`${heading}\n${textOf(rows, { separator: ';' })}`);
      expect(curve.levelDb).toEqual(decibels);
      expect(curve.phaseRad).toBeUndefined();
      expect(warnings.map((w) => w.code)).toEqual(['column-ignored']);
    }
  });

  it('two sides under a heading of single words are levels and no phase', () => {
    for (const heading of [
      'Frequency(Hz) Left(dB) Right(dB)',
      'freq left right',
      'Frequency level coherence',
      'freq(Hz) spl(dB) coherence(%)',
      '* Freq SPL THD',
      'Hz dB dB',
      'Freq ch1 ch2',
    ]) {
      const { curve, warnings } = read(`${heading}\n${textOf(rows)}`);
      expect(curve.levelDb).toEqual(decibels);
      expect(curve.phaseRad).toBeUndefined();
      expect(warnings.map((w) => w.code)).toEqual(['column-ignored']);
    }
  });

  it('words over three columns that name none of their own leave the third a phase', () => {
    for (const heading of [
      'Frequency response measurement',
      'Frequency response deviation',
      'frequency (Hz) level',
      'frequency level dB',
      'Frequency sweep left',
      'Hz dB deg',
      'freq spl phase',
    ]) {
      const { curve } = read(`${heading}\n${textOf(rows)}`);
      expect(curve.levelDb).toEqual(decibels);
      expect(curve.phaseRad?.[1]).toBeCloseTo((-10.5 * Math.PI) / 180, 12);
    }
  });

  it('frequencies that end at 0.25 without a word on units raise a suspicion of kHz', () => {
    const { warnings } = read(textOf(kilohertz));
    expect(warnings.map((w) => w.code)).toEqual(['frequency-unit-suspect']);
    expect(read(textOf(rows)).warnings).toEqual([]);
  });
});

describe('readMeasurementText, repeated frequencies and phase', () => {
  it('averages the power of rows of one frequency, and the direction of their phases', () => {
    const text = `${textOf(rows)}20 70.25 10\n20 60.25 -10\n`;
    const { curve, rows: count } = read(text);
    expect(count).toBe(22);
    expect(curve.frequencyHz).toEqual(hertz);
    expect(curve.levelDb[0]).toBeCloseTo(80.25 + 10 * Math.log10((1 + 0.1 + 0.01) / 3), 9);
    expect(curve.phaseRad?.[0]).toBeCloseTo(0, 12);
  });

  it('the order of rows changes nothing, not in the last digit', () => {
    const many = Array.from({ length: 300 }, (_, i) => ({
      hz: 20 + (i % 97),
      db: 70 + 13 * Math.sin(i),
      deg: i % 180,
    }));
    const a = read(textOf(many)).curve;
    const b = read(textOf(many.toReversed())).curve;
    expect(b).toEqual(a);
  });

  it('unwraps a wrapped phase', () => {
    const wrap = (deg: number) => ((((deg + 180) % 360) + 360) % 360) - 180;
    const text = rows.map((r, i) => `${r.hz} ${r.db} ${wrap(-100 * i)}\n`).join('');
    const { phaseRad } = read(text).curve;
    phaseRad!.forEach((p, i) => {
      expect(p).toBeCloseTo((-100 * i * Math.PI) / 180, 9);
    });
  });

  it('leaves a phase that was unwrapped before as it is, steps of more than half a turn included', () => {
    const text = rows.map((r, i) => `${r.hz} ${r.db} ${-250 * i}\n`).join('');
    expect(read(text).curve.phaseRad?.[5]).toBeCloseTo((-1250 * Math.PI) / 180, 9);
  });
});
