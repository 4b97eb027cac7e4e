import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../src/inputError.js';
import { readMeasurementText } from '../../src/measurement/readMeasurementText.js';
import { bytesOf, type Row, read, textOf } from '../measurement/readerSamples.js';

const seed = 4712;

/** Numbers of few decimals, so that they are the same when read back; ascending frequencies. */
const rows: fc.Arbitrary<Row[]> = fc
  .array(
    fc.record({
      step: fc.integer({ min: 1, max: 5000 }),
      db: fc.integer({ min: -99_999, max: 99_999 }),
      deg: fc.integer({ min: -1799, max: 1799 }),
    }),
    {
      minLength: 16,
      maxLength: 60,
    },
  )
  .map((list) => {
    let hundredths = 1999;
    return list.map(({ step, db, deg }) => {
      hundredths += step;
      return { hz: hundredths / 100, db: db / 1000, deg: deg / 10 };
    });
  });

const style = fc
  .record({
    separator: fc.constantFrom(' ', '   ', '\t', ' \t', ',', ', ', ' , ', ';', '; ', ' ;', ';\t'),
    decimal: fc.constantFrom('.', ','),
    lineEnd: fc.constantFrom('\n', '\r\n', '\r'),
    columns: fc.constantFrom<2 | 3>(2, 3),
  })
  .filter(({ separator, decimal }) => !(separator.includes(',') && decimal === ','));

const preamble = fc.array(
  fc.constantFrom(
    '# comment',
    '; comment',
    '// comment',
    'words before the data',
    '',
    '   ',
    '# 20 Hz to 20 kHz, at 1 m',
  ),
  { maxLength: 4 },
);

describe('a measurement written in any layout', () => {
  it('is read back number for number', () => {
    fc.assert(
      fc.property(rows, style, preamble, fc.boolean(), (list, how, before, marked) => {
        const text =
          (marked ? '\ufeff' : '') + before.map((line) => line + how.lineEnd).join('') + textOf(list, how);
        const { curve, rows: count } = read(text);
        expect(count).toBe(list.length);
        expect(curve.frequencyHz).toEqual(Float64Array.from(list, (r) => r.hz));
        expect(curve.levelDb).toEqual(Float64Array.from(list, (r) => r.db));
        expect(curve.phaseRad !== undefined).toBe(how.columns === 3);
      }),
      { seed, numRuns: 300 },
    );
  });

  it('gives the same curve in any order of its rows, to the last digit', () => {
    const repeated = fc.array(
      fc.record({
        hz: fc.integer({ min: 1, max: 40 }),
        db: fc.integer({ min: -60, max: 60 }),
        deg: fc.integer({ min: -180, max: 180 }),
      }),
      { minLength: 60, maxLength: 120 },
    );
    fc.assert(
      fc.property(repeated, fc.array(fc.nat(), { minLength: 120, maxLength: 120 }), (list, keys) => {
        const shuffled = list.map((row, i) => ({ row, key: keys[i]! })).sort((a, b) => a.key - b.key);
        const original = read(textOf(list)).curve;
        expect(read(textOf(list.toReversed())).curve).toEqual(original);
        expect(read(textOf(shuffled.map(({ row }) => row))).curve).toEqual(original);
      }),
      { seed, numRuns: 100 },
    );
  });

  it('adds a constant to the level where the file does, and nothing else', () => {
    fc.assert(
      fc.property(rows, fc.integer({ min: -50, max: 50 }), (list, db) => {
        const a = read(textOf(list)).curve;
        const b = read(textOf(list.map((r) => ({ ...r, db: Number((r.db + db).toFixed(3)) })))).curve;
        expect(b.frequencyHz).toEqual(a.frequencyHz);
        expect(b.phaseRad).toEqual(a.phaseRad);
        b.levelDb.forEach((l, i) => {
          expect(l).toBeCloseTo(a.levelDb[i]! + db, 9);
        });
      }),
      { seed, numRuns: 100 },
    );
  });

  it('names the line of a broken row, wherever it is', () => {
    const broken = fc.constantFrom(
      'abc',
      '100',
      '100 80 1 2',
      '-5 80 0',
      '0 80 0',
      '100 NaN 0',
      '100 80 x',
      '1,0 80.5 0',
      '100 8O 0',
    );
    fc.assert(
      fc.property(rows, broken, fc.nat(), (list, line, place) => {
        const lines = textOf(list.map((r) => ({ ...r, hz: r.hz + 0.001 })))
          .trimEnd()
          .split('\n');
        const at = 1 + (place % lines.length);
        const text = [...lines.slice(0, at), line, ...lines.slice(at)].join('\n');
        expect(() => read(text)).toThrow(`room.txt line ${at + 1}: found "${line}"`);
        expect(() => read(text)).toThrow(InputError);
      }),
      { seed, numRuns: 200 },
    );
  });

  it('bytes of any kind are read or refused, and never a fault of ours', () => {
    const pieces = fc.constantFrom(
      '1',
      '20',
      ' ',
      '\t',
      ',',
      ';',
      '\n',
      '\r',
      '.',
      '-',
      'e',
      '"',
      '#',
      '//',
      'NaN',
      'kHz',
      'freq',
      'dB',
      '100 80\n',
      '\ufeff',
      'ü',
    );
    const text = fc.array(pieces, { maxLength: 200 }).map((list) => bytesOf(list.join('')));
    const sound = (bytes: Uint8Array) => {
      try {
        const { curve } = readMeasurementText(bytes, 'x');
        curve.frequencyHz.forEach((f, i) => {
          expect(f).toBeGreaterThan(i === 0 ? 0 : curve.frequencyHz[i - 1]!);
        });
        expect(curve.levelDb.every(Number.isFinite)).toBe(true);
      } catch (error) {
        expect(error).toBeInstanceOf(InputError);
      }
    };
    fc.assert(fc.property(text, sound), { seed, numRuns: 500 });
    fc.assert(fc.property(fc.uint8Array({ maxLength: 300 }), sound), { seed, numRuns: 300 });
  });
});
