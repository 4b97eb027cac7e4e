import { unit } from 'mathjs';
import { beforeAll, describe, expect, it } from 'vitest';
import { InputError } from '../../src/inputError.js';
import { formatFrequency } from '../../src/units/formatFrequency.js';
import { formatLength } from '../../src/units/formatLength.js';
import { lengthUnitOf } from '../../src/units/lengthUnitOf.js';
import { parseFrequencyHz } from '../../src/units/parseFrequencyHz.js';
import { parseGainDb } from '../../src/units/parseGainDb.js';
import { parseLengthM } from '../../src/units/parseLengthM.js';
import { parseMeasuredLength } from '../../src/units/parseMeasuredLength.js';
import { parseSmoothing } from '../../src/units/parseSmoothing.js';
import { parseTemperatureC } from '../../src/units/parseTemperatureC.js';
import { parseTimeS } from '../../src/units/parseTimeS.js';
import { loadUnitEngine } from '../../src/units/unitEngine.js';
import { frequencyUnits, lengthUnits, timeUnits } from '../../src/units/unitTables.js';

beforeAll(loadUnitEngine);

const refusal = (parse: () => unknown): string => {
  try {
    parse();
  } catch (error) {
    expect(error).toBeInstanceOf(InputError);
    return (error as Error).message;
  }
  throw new Error('expected a refusal, none came');
};

describe('unit tables', () => {
  // An independent witness, which spells metres the American way and knows no inch marks.
  it.each([
    [
      'm',
      lengthUnits,
      'm meter meters dm decimeter cm centimeters mm millimeter in inch inches ft foot feet yd yard',
    ],
    ['Hz', frequencyUnits, 'hertz kilohertz'],
    ['s', timeUnits, 's sec second seconds ms millisecond us microseconds'],
  ] as const)('spellings of units of %s agree with an independent unit library', (si, table, spellings) => {
    for (const name of spellings.split(' ')) {
      expect(unit(1, name).toNumber(si), name).toBeCloseTo(table.units.get(name)!.factor, 12);
    }
  });

  it('degrees agree with an independent unit library', () => {
    for (const [ours, theirs] of [
      ['degC', 'degC'],
      ['°C', 'celsius'],
      ['degF', 'degF'],
      ['fahrenheit', 'fahrenheit'],
    ] as const) {
      for (const value of [-10, 0, 20, 68]) {
        expect(parseTemperatureC(`${value} ${ours}`, 't')).toBeCloseTo(
          unit(value, theirs).toNumber('degC'),
          9,
        );
      }
    }
    expect(parseTemperatureC('293.15 K', 't')).toBeCloseTo(unit(293.15, 'K').toNumber('degC'), 9);
  });
});

describe('lengths', () => {
  it.each([
    ['14 in', 0.3556],
    ['14in', 0.3556],
    ['29 cm', 0.29],
    ['290mm', 0.29],
    ['0.29', 0.29],
    [0.29, 0.29],
    ['1,5 m', 1.5],
    ['0,125 m', 0.125],
    ['1.2e-1 m', 0.12],
    ['11 1/2"', 0.2921],
    ['11½ in', 0.2921],
    ['¾"', 0.01905],
    [`4' 6"`, 1.3716],
    ['4 ft 6 1/2 in', 1.3843],
    ['4′ 6″', 1.3716],
    ['2 Metres', 2],
    ['0', 0],
  ])('parseLengthM(%j) is %d m', (text, m) => {
    expect(parseLengthM(text, 'x')).toBeCloseTo(m, 12);
  });

  it.each([
    '',
    'cm',
    '5 parsecs',
    '1..5 m',
    '29 cm 3',
    '1/0 m',
    `4' 6`,
    '-3 cm',
    '3 dB',
    'NaN',
    'Infinity m',
  ])('parseLengthM(%j) is refused', (text) => {
    const message = refusal(() => parseLengthM(text, 'surfaces[0].speakerDistance'));
    expect(message).toContain('surfaces[0].speakerDistance');
    expect(message).toContain('found');
    expect(message).toContain('expected');
    if (text !== '') expect(message).toContain(text);
  });

  it('a comma before three digits is refused with the reason, since it may mean thousands', () => {
    expect(refusal(() => parseLengthM('1,000 mm', 'x'))).toMatch(/comma before three digits/);
  });

  it.each([
    ['29 cm ± 2 cm', 0.29, 0.02],
    ['29 ± 2 cm', 0.29, 0.02],
    ['29 cm ± 2', 0.29, 0.02],
    ['29 cm +- 2 cm', 0.29, 0.02],
    ['29 cm +/- 20 mm', 0.29, 0.02],
    ['0.29 ± 0.02', 0.29, 0.02],
    ['29 cm ± 5 %', 0.29, 0.0145],
    ['11.5 in', 0.2921, 0],
    [`4' 6" ± 1"`, 1.3716, 0.0254],
    [0.29, 0.29, 0],
  ])('parseMeasuredLength(%j) is %d m ± %d m', (text, m, toleranceM) => {
    const length = parseMeasuredLength(text, 'x');
    expect(length.m).toBeCloseTo(m, 12);
    expect(length.toleranceM).toBeCloseTo(toleranceM, 12);
  });

  it.each(['29 cm ±', '± 2 cm', '29 cm ± 2 ± 3', '29 cm ± 2 dB', '29 cm ± -2 cm', `4' 6" ± 1`])(
    'parseMeasuredLength(%j) is refused',
    (text) => {
      expect(refusal(() => parseMeasuredLength(text, 'x'))).toMatch(/^x.*found.*expected/);
    },
  );

  it('lengthUnitOf shows inches to those who write inches, feet or yards', () => {
    expect(['14 in', `4'`, '2 ft', '29 ± 1 in', `11.5"`, '1 yd'].map(lengthUnitOf)).toEqual(
      Array(6).fill('in'),
    );
    expect(['29 cm', '0.3 m', '290 mm', '0.5', 0.5].map(lengthUnitOf)).toEqual(Array(5).fill('cm'));
  });

  it('formatLength rounds to a tenth', () => {
    expect(formatLength(0.29, 'cm')).toBe('29 cm');
    expect(formatLength(0.2951, 'cm')).toBe('29.5 cm');
    expect(formatLength(0.2921, 'in')).toBe('11.5 in');
    expect(formatLength(-0.0001, 'cm')).toBe('0 cm');
  });
});

describe('frequencies, gains, times, temperatures, smoothing', () => {
  it.each([
    ['2.5 kHz', 2500],
    ['2.5k', 2500],
    ['80', 80],
    ['80 HZ', 80],
    [80, 80],
    ['1,5 kHz', 1500],
    ['2.5e3', 2500],
  ])('parseFrequencyHz(%j) is %d Hz', (text, hz) => {
    expect(parseFrequencyHz(text, '--from')).toBeCloseTo(hz, 9);
  });

  it.each(['0', '-5 Hz', '', 'abc', '80 cm', '20 kHz 3'])('parseFrequencyHz(%j) is refused', (text) => {
    expect(refusal(() => parseFrequencyHz(text, '--from'))).toMatch(/^--from: found .*expected a frequency/);
  });

  it.each([
    ['-0.8 dB', -0.8],
    ['3dB', 3],
    ['-6', -6],
    ['−6 dB', -6],
    ['+3', 3],
    [-2, -2],
  ])('parseGainDb(%j) is %d dB', (text, db) => {
    expect(parseGainDb(text, 'x')).toBe(db);
  });

  it.each(['', '3 Hz', 'loud', 'NaN dB'])('parseGainDb(%j) is refused', (text) => {
    expect(refusal(() => parseGainDb(text, '--max-boost'))).toMatch(/^--max-boost: found .*expected a gain/);
  });

  it.each([
    ['5 ms', 0.005],
    ['0.005', 0.005],
    ['200 us', 0.0002],
    ['200 μs', 0.0002],
    ['2 s', 2],
  ])('parseTimeS(%j) is %d s', (text, s) => {
    expect(parseTimeS(text, 'x')).toBeCloseTo(s, 15);
  });

  it.each([
    ['20 degC', 20],
    ['20 °C', 20],
    ['20 deg C', 20],
    ['68 °F', 20],
    ['20', 20],
    [20, 20],
  ])('parseTemperatureC(%j) is %d °C', (text, celsius) => {
    expect(parseTemperatureC(text, 'x')).toBeCloseTo(celsius, 9);
  });

  it('a room at 293 °C or −200 °F is taken for a slip of the unit', () => {
    expect(refusal(() => parseTemperatureC('293', 'temperature'))).toMatch(/out of bounds.*293 K/);
    refusal(() => parseTemperatureC('-200 degF', 'temperature'));
  });

  it.each([
    ['1/12', 1 / 12],
    ['1/3 octave', 1 / 3],
    ['1/6 oct', 1 / 6],
    ['none', 0],
    ['0', 0],
    [0, 0],
    ['0.5', 0.5],
  ])('parseSmoothing(%j) is %d octaves', (text, octaves) => {
    expect(parseSmoothing(text)).toBeCloseTo(octaves, 15);
  });

  it.each(['12', '1/0', '-1/12', 'a bit', ''])('parseSmoothing(%j) is refused', (text) => {
    expect(refusal(() => parseSmoothing(text, '--smoothing'))).toMatch(/^--smoothing: found .*"1\/12"/);
  });

  it('a quantity out of bounds is refused with the bounds', () => {
    const words = (read: () => unknown) => refusal(read).replace(/^what: found "[^"]*", which is /, '');
    expect(words(() => parseFrequencyHz('0', 'what'))).toMatch(
      /^out of bounds \(more than 0 to 1000000000 Hz\); expected a frequency such as/,
    );
    expect(words(() => parseGainDb('9999', 'what'))).toMatch(
      /^out of bounds \(-1000 to 1000 dB\); expected a gain in dB such as/,
    );
    expect(words(() => parseTemperatureC('293', 'what'))).toMatch(
      /^out of bounds \(-60 to 80 degC\); expected .* such as/,
    );
  });

  it('formatFrequency tells a frequency as the design has it that was made of it', () => {
    // The design has 574.50 Hz.
    expect(formatFrequency(574.4996)).toBe('575 Hz');
    for (let hz = 20.0001; hz < 20_000; hz *= 1.00037)
      expect(formatFrequency(hz)).toBe(formatFrequency(Number(hz.toPrecision(5))));
  });

  it('formatFrequency shows three figures and turns to kHz at a thousand', () => {
    expect([61.23, 297.4, 999.4, 999.6, 2500, 12_440, 20].map(formatFrequency)).toEqual([
      '61.2 Hz',
      '297 Hz',
      '999 Hz',
      '1 kHz',
      '2.5 kHz',
      '12.4 kHz',
      '20 Hz',
    ]);
  });
});
