import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { InputError } from '../../src/inputError.js';
import { lengthUnitOf } from '../../src/units/lengthUnitOf.js';
import { parseFrequencyHz } from '../../src/units/parseFrequencyHz.js';
import { parseGainDb } from '../../src/units/parseGainDb.js';
import { parseLengthM } from '../../src/units/parseLengthM.js';
import { parseMeasuredLength } from '../../src/units/parseMeasuredLength.js';
import { parseTemperatureC } from '../../src/units/parseTemperatureC.js';
import { parseTimeS } from '../../src/units/parseTimeS.js';
import { loadUnitEngine, unitEngine } from '../../src/units/unitEngine.js';

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

// Definitions: inch 25.4 mm, foot 12 in, chain 66 ft, thousandth of an inch (international yard and pound
// agreement, 1959); kilo, mega, giga, micro (BIPM, The International System of Units, 9th edition, table 7).
describe('with the unit engine', () => {
  it.each([
    ['5 ft + 3 in', 1.6002],
    ['3 in + 5 ft', 1.6002],
    ['5 FT + 3 Inches', 1.6002],
    [`5' + 3"`, 1.6002],
    ['14 in. + 2 mm', 0.3576],
    ['2 * 14 in', 0.7112],
    ['14 in × 2', 0.7112],
    ['(2 * 14) cm', 0.28],
    ['29 cm + 2 mm', 0.292],
    ['29 cm − 2 mm', 0.288],
    ['29,5 cm + 2 mm', 0.297],
    ['0,125 m + 2 cm', 0.145],
    ['3/4 in + 1/8 in', 0.022225],
    ['11 1/2" + 2 mm', 0.2941],
    ['-2 cm + 5 cm', 0.03],
    ['2 * (5 cm - 1 cm) / 4', 0.02],
    ['2 * 0.145', 0.29],
    ['2 Metres + 3 centimetre', 2.03],
    ['50000 µm', 0.05],
    ['50000 μm', 0.05],
    ['2 chains', 40.2336],
    ['500 mil', 0.0127],
    ['1e-1 m + 1e0 cm', 0.11],
    ['2 m/s * 3 ms', 0.006],
  ])('the length %j is %d m', (text, m) => {
    expect(parseLengthM(text, 'x')).toBeCloseTo(m, 12);
  });

  it.each([
    ['343 m/s / 4 / 300 Hz', 343 / 4 / 300],
    ['343 m/s/4/300 Hz', 343 / 4 / 300],
    ['343 m/s / (4 * 300 Hz)', 343 / 4 / 300],
    ['343 m s^-1 / 4 / 300 hz', 343 / 4 / 300],
    ['343 m·s^-1 / 4 / 0.3 kHz', 343 / 4 / 300],
    ['1/4 * 343 m/s / 300 Hz', 343 / 4 / 300],
  ])('a number keeps its unit whatever stands before it: %j', (text, m) => {
    expect(parseLengthM(text, 'x')).toBeCloseTo(m, 12);
  });

  it.each([
    ['10 ft - 5 ft 3 in', 4.75 * 0.3048],
    [`10' - 5' 3"`, 4.75 * 0.3048],
    ['2 * 5 ft 3 in', 10.5 * 0.3048],
    ['5 ft 3 1/2 in + 2 cm', 63.5 * 0.0254 + 0.02],
    ['5 ft 3 in', 63 * 0.0254],
  ])('feet and inches are one length within an expression: %j', (text, m) => {
    expect(parseLengthM(text, 'x')).toBeCloseTo(m, 12);
  });

  it.each([
    ['0.0001 GHz', 1e5],
    ['0.02 MHz', 2e4],
    ['343 m/s / 4 / 29 cm', 343 / 4 / 0.29],
    ['1 / 4 ms', 250],
    ['2.5k + 100 Hz', 2600],
    ['80 Hz * 2^3', 640],
  ])('the frequency %j is %d Hz', (text, hz) => {
    expect(parseFrequencyHz(text, 'x')).toBeCloseTo(hz, 9);
  });

  it.each([
    ['300 m / 343 m/s', 300 / 343],
    ['1 / 300 Hz', 1 / 300],
    ['4 min', 240],
    ['2 * 3 ms', 0.006],
  ])('the time %j is %d s', (text, s) => {
    expect(parseTimeS(text, 'x')).toBeCloseTo(s, 12);
  });

  it.each([
    ['528 degR', 528 / 1.8 - 273.15],
    ['0.3 kK', 26.85],
    ['20 + 3', 23],
  ])('the temperature %j is %d °C', (text, celsius) => {
    expect(parseTemperatureC(text, 'x')).toBeCloseTo(celsius, 9);
  });

  it.each([
    ['5 ft + 3 in ± 1 in', 1.6002, 0.0254],
    ['29 cm + 2 mm ± 5 %', 0.292, 0.0146],
    ['29 cm ± 2 mm + 1 mm', 0.29, 0.003],
    ['290000 µm ± 2000', 0.29, 0.002],
    ['2 * 0.14 ± 0.01', 0.28, 0.01],
  ])('the measured length %j is %d m ± %d m', (text, m, toleranceM) => {
    const length = parseMeasuredLength(text, 'x');
    expect(length.m).toBeCloseTo(m, 12);
    expect(length.toleranceM).toBeCloseTo(toleranceM, 12);
  });

  it.each(['29 cm + 2 mm ± 2', '2 * 14 ± 1 cm'])(
    'a tolerance beside an expression needs a unit on both sides: %j',
    (text) => {
      expect(refusal(() => parseMeasuredLength(text, 'x'))).toMatch(/^x: found .*expected a unit with/);
    },
  );

  it('lengths are shown in inches to those who reckon in inches or feet', () => {
    expect(['5 ft + 3 in', '(14 in)*2', '2*14in'].map(lengthUnitOf)).toEqual(['in', 'in', 'in']);
    expect(['29 cm + 2 mm', '343 m/s / 4 / 300 Hz'].map(lengthUnitOf)).toEqual(['cm', 'cm']);
  });

  it('sums and differences agree with reckoning by hand', () => {
    const unit = fc.constantFrom(
      ['cm', 0.01],
      ['mm', 0.001],
      ['in', 0.0254],
      ['ft', 0.3048],
      ['µm', 1e-6],
    ) as fc.Arbitrary<[string, number]>;
    const term = fc.tuple(fc.integer({ min: 1, max: 9999 }), unit, fc.constantFrom('+', '-'), fc.nat(9));
    fc.assert(
      fc.property(fc.array(term, { minLength: 1, maxLength: 4 }), (terms) => {
        const sum = terms.map(([n, [name], sign, times]) => `${sign} ${times} * ${n / 8} ${name}`).join(' ');
        const m = terms.reduce(
          (m, [n, [, factor], sign, times]) => m + Number(`${sign}1`) * times * (n / 8) * factor,
          0,
        );
        const result = parseLengthM(`9000 m ${sum}`, 'x');
        expect(result).toBeCloseTo(9000 + m, 8);
      }),
      { seed: 20, numRuns: 300 },
    );
  });
});

describe('what the unit engine refuses', () => {
  it.each([
    ['5 lightfurlongs', 'no unit "lightfurlongs" is known'],
    ['3 cm + 5 blorps', 'no unit "blorps" is known'],
    ['5 kg', 'another kind of quantity'],
    ['300 Hz + 200 Hz', 'another kind of quantity'],
    ['2 cm * 3 cm', 'another kind of quantity'],
    ['1 m / 4 in', 'another kind of quantity'],
    ['5 ft + 3', 'its parts are of different kinds or lack a unit'],
    ['5 ft + 3 s', 'its parts are of different kinds'],
    ['1 m 5 cm', 'an operator is missing'],
    ['3 (4 m)', 'an operator is missing'],
    ['3 cm - 5 cm', 'is -0.02 m and so out of bounds'],
    ['-5 nm', 'is -5e-9 m and so out of bounds'],
    ['1 m / 0', 'not finite'],
    ['1e300 m * 1e300', 'not finite'],
    ['1,000 mm + 1 m', 'a comma before three digits'],
    ['1 m * 20 degC / 10 degC', 'a temperature in degC cannot be reckoned with'],
  ])('the length %j, saying why', (text, reason) => {
    const message = refusal(() => parseLengthM(text, 'baffleWidth'));
    expect(message).toMatch(/^baffleWidth: found "/);
    expect(message).toContain(text);
    expect(message).toContain('expected a length such as "29 cm"');
    expect(message).toContain(reason);
  });

  it.each(['20 degC + 3 degC', '2 * 20 °C', '293 K + 1 K'])('arithmetic of temperatures: %j', (text) => {
    expect(refusal(() => parseTemperatureC(text, 'x'))).toMatch(
      /expected a temperature.*cannot be reckoned with/,
    );
  });

  it('angular frequency for a frequency, which would be 2π off', () => {
    expect(refusal(() => parseFrequencyHz('100 rad/s', 'x'))).toContain('another kind of quantity');
  });

  it('arithmetic of decibels, which are no unit to it', () => {
    expect(refusal(() => parseGainDb('3 dB + 1 dB', 'x'))).toContain('expected a gain');
  });

  const hostile = [
    'import("fs") 1',
    'import({pi: 3}) * 1 m',
    'createUnit("ell") * 1 m',
    '1 m; createUnit("ell")',
    'evaluate("1 m")',
    'parse("1") m',
    'config({number: 1})',
    'f(x) = x; f(1) m',
    'x = 1 m',
    'constructor 1',
    'constructor.constructor("return 1")() m',
    '__proto__ 1',
    '1 m.toString()',
    'u0 1',
    '1 u0',
    '1e999 m',
    '-1e999 m',
    'Infinity * 1 m',
    '1/0 m',
    '0/0 m',
    '1 m / (1 m - 1 m)',
    '(1 m)^999999999',
    '9^9^9^9^9 m',
    '(-1)^0.5 m',
    'sqrt(-1) m',
    '2i m',
    'i * 1 m',
    '[1, 2] m',
    '[[1 m]]',
    'ones(1e9) m',
    '{a: 1} m',
    '1:1e9 m',
    'zeros(9, 9) * 1 m',
    '1 m > 2 m',
    'true * 1 m',
    '170! m',
    "5 m'",
    '5 % 3 m',
    '1 m to cm',
    '1 m in cm',
    '7 mod 4 m',
    '1 m +',
    '* 1 m',
    '1 m)',
    '((1 m)',
    '()1 m',
    '1..5 m',
    '1.5.2 m',
    '29 cm 3',
    '12 m²',
    '2 m \u0000 + 3 m',
    '1 m\n+ 2 m; 3',
    `${'('.repeat(1e5)}1 m${')'.repeat(1e5)}`,
    `${'-'.repeat(1e5)}1 m`,
    `${'1 m + '.repeat(1e5)}1 m`,
    `${'1 '.repeat(1e5)}m`,
    `${'1'.repeat(1e5)} m`,
    `5 ft ${'1'.repeat(1e5)}`,
    `5 ft ${'1'.repeat(1e5)} blorps`,
    `1 ${'m'.repeat(1e5)}`,
    `1 m${'^1'.repeat(1e5)}`,
  ];
  it.each(hostile.map((text) => [text.length > 60 ? `${text.slice(0, 60)}…` : text, text] as const))(
    '%s',
    (_, text) => {
      const message = refusal(() => parseLengthM(text, 'x'));
      expect(message).toContain('expected a length');
      expect(message.length).toBeLessThan(400);
    },
  );

  it('anything made of its own signs and words, by a refusal or a finite length and never otherwise', () => {
    const piece = fc.constantFrom(
      ...[
        '1',
        '2.5',
        '3/4',
        '1e9',
        '1e-300',
        'm',
        'in',
        'ft',
        's',
        'K',
        'degC',
        'kHz',
        'e',
        'i',
        '"',
        "'",
        '.',
        ',',
      ],
      ...['+', '-', '*', '/', '^', '^-1', '(', ')', ' ', '±', 'to', 'mod', 'u0', '%', '°'],
    );
    fc.assert(
      fc.property(fc.array(piece, { maxLength: 24 }), (pieces) => {
        const text = pieces.join('');
        try {
          const { m, toleranceM } = parseMeasuredLength(text, 'x');
          expect(m).toBeGreaterThanOrEqual(0);
          expect(m + toleranceM).toBeLessThan(Number.POSITIVE_INFINITY);
        } catch (error) {
          expect(error, text).toBeInstanceOf(InputError);
        }
      }),
      { seed: 21, numRuns: 3000 },
    );
  });

  it('leaves nothing behind: the engine reckons after all that as before', () => {
    expect(unitEngine()).toBeDefined();
    expect(parseLengthM('5 ft + 3 in', 'x')).toBeCloseTo(1.6002, 12);
    expect(refusal(() => parseLengthM('2 ell', 'x'))).toContain('no unit "ell" is known');
  });
});
