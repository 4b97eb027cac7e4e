import { describe, expect, test } from 'vitest';
import { exportDesign, exportFormats } from '../../src/export/exportDesign.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import { biquadResponse } from '../../src/filter/biquadResponse.js';
import { valueFromHex } from '../../src/filter/fixedPoint.js';
import { filterFromSetting, type QConventionName, qConventionNames } from '../../src/filter/qConventions.js';
import { InputError } from '../../src/inputError.js';
import { type Design, designSchema } from '../../src/schema/design.js';
import { sampleDesign } from './sampleDesign.js';

const design = sampleDesign();
const nameOf = (field: string) => `--${field}`;
const HZ = Float64Array.from([20, 63, 119, 555, 670, 1000, 3312, 8226, 15000, 20000]);

const text = (made: Design, request: Parameters<typeof exportDesign>[1]) => {
  const { content } = exportDesign(made, request, nameOf).files[0]!;
  return content as string;
};

const fixedDevice: Design = {
  ...design,
  device: {
    name: 'box',
    sampleRatesHz: [48000, 96000],
    qConvention: 'bandwidthOctaves',
    coefficients: {
      fixedPoint: { integerBits: 5, fractionBits: 23 },
      feedbackSign: 'added',
      order: ['b2', 'b1', 'b0', 'a2', 'a1'],
    },
  },
};

interface CoefficientFile {
  readonly differenceEquation: string;
  readonly rates: readonly {
    readonly sampleRateHz: number;
    readonly inputGainDb: number;
    readonly sections: readonly { readonly coefficients: Record<string, number>; readonly hex?: string[] }[];
  }[];
}

/** Level of sections by their own numbers, whatever their sign. */
function levelOf(
  sections: CoefficientFile['rates'][number]['sections'],
  rate: number,
  sign: 1 | -1,
): Float64Array {
  const sum = new Float64Array(HZ.length);
  for (const { coefficients: c } of sections) {
    const biquad = { b0: c.b0!, b1: c.b1!, b2: c.b2!, a1: sign * c.a1!, a2: sign * c.a2! };
    biquadResponse(biquad, rate, HZ).levelDb.forEach((db, i) => {
      sum[i]! += db;
    });
  }
  return sum;
}

const furthest = (a: Float64Array, b: Float64Array) => Math.max(...a.map((v, i) => Math.abs(v - b[i]!)));

describe('coefficients', () => {
  test.each([
    ['subtracted', 1, '- a1*y[n-1]'],
    ['added', -1, '+ a1*y[n-1]'],
  ] as const)(
    'with the feedback %s do what the filters do, at every rate',
    (feedbackSign, sign, equation) => {
      const request = { format: 'coefficients-json', feedbackSign, sampleRate: [44100, 48000, 192000] };
      const file = JSON.parse(text(design, request)) as CoefficientFile;
      expect(file.differenceEquation).toContain(equation);
      expect(file.rates.map(({ sampleRateHz }) => sampleRateHz)).toEqual([44100, 48000, 192000]);
      for (const { sampleRateHz, sections, inputGainDb } of file.rates) {
        const expected = bankResponseDb(design.filters, sampleRateHz, HZ);
        expect(furthest(levelOf(sections, sampleRateHz, sign), expected)).toBeLessThan(1e-7);
        expect(Math.max(...expected) + inputGainDb).toBeLessThan(0.01);
      }
    },
  );

  test('come in the device’s sign, order and format where the design is for one', () => {
    const file = JSON.parse(text(fixedDevice, { format: 'coefficients-json' })) as CoefficientFile;
    expect(file.differenceEquation).toContain('+ a1*y[n-1]');
    const [first] = file.rates[0]!.sections;
    expect(Object.keys(first!.coefficients)).toEqual(['b2', 'b1', 'b0', 'a2', 'a1']);
    first!.hex!.forEach((word, k) => {
      const value = valueFromHex(word, { integerBits: 5, fractionBits: 23 });
      expect(value).toBe(Object.values(first!.coefficients)[k]);
    });
    const exact = bankResponseDb(design.filters, 48000, HZ);
    expect(furthest(levelOf(file.rates[0]!.sections, 48000, -1), exact)).toBeLessThan(0.02);
  });

  test('in hexadecimal stand one section a line, under the equation and what they are', () => {
    const lines = text(design, { format: 'hex', fixedPoint: { integerBits: 5, fractionBits: 23 } }).split(
      '\n',
    );
    const words = lines.filter((line) => line.startsWith('0x'));
    expect(words).toHaveLength(design.filters.length);
    for (const line of words) expect(line).toMatch(/^(0x[0-9A-F]{7} ?){5}$/);
    expect(lines.join('\n')).toContain('Difference equation (a0 = 1): y[n] =');
    expect(lines.join('\n')).toContain('5 integer bits with the sign, 23 fraction bits');
  });

  test('warn where a short format cannot hold a filter', () => {
    const request = { format: 'hex', fixedPoint: { integerBits: 3, fractionBits: 11 } };
    const { notes } = exportDesign(design, request, nameOf);
    expect(notes.join('\n')).toMatch(/fraction bits instead of 11/);
  });

  test.each(['coefficients-json', 'coefficients-csv', 'c-header', 'hex'])(
    'are refused as %s where the format cannot hold them at all',
    (format) => {
      const request = { format, fixedPoint: { integerBits: 1, fractionBits: 23 } };
      const made = () => exportDesign(design, request, nameOf);
      expect(made).toThrow(InputError);
      expect(made).toThrow(
        /--fixedPoint: found 1\.23, expected .* holds every filter.*at least 2 integer bits/s,
      );
    },
  );

  test('in fixed point say in every file how far a section is off', () => {
    const fixedPoint = { integerBits: 3, fractionBits: 13 };
    const json = JSON.parse(text(design, { format: 'coefficients-json', fixedPoint })) as {
      readonly rates: readonly { readonly sections: readonly { readonly maxErrorDb: number }[] }[];
    };
    const csv = text(design, { format: 'coefficients-csv', fixedPoint }).split('\r\n');
    const at = csv[0]!.split(',').indexOf('off by at most (dB)');
    json.rates[0]!.sections.forEach(({ maxErrorDb }, i) => {
      const said = maxErrorDb.toFixed(4);
      expect(text(design, { format: 'c-header', fixedPoint })).toContain(`off by at most ${said} dB`);
      expect(text(design, { format: 'hex', fixedPoint })).toContain(`off by at most ${said} dB`);
      expect(csv[i + 1]!.split(',')[at]).toBe(said);
    });
  });

  test('in CSV write words so that no spreadsheet takes them for numbers', () => {
    const csv = text(design, {
      format: 'coefficients-csv',
      fixedPoint: { integerBits: 5, fractionBits: 23 },
    });
    const [header, ...rows] = csv.trimEnd().split('\r\n');
    const at = header!.split(',').findIndex((name) => name.includes('hex'));
    for (const row of rows) {
      for (const word of row.split(',').slice(at, at + 5)) expect(word).toMatch(/^0x[0-9A-F]{7}$/);
    }
  });

  test('come once for each rate, however often it is asked for', () => {
    const file = JSON.parse(
      text(design, { format: 'coefficients-json', sampleRate: [48000, 96000, 48000] }),
    ) as CoefficientFile;
    expect(file.rates.map(({ sampleRateHz }) => sampleRateHz)).toEqual([48000, 96000]);
  });
});

describe('listings', () => {
  const one: Design = {
    ...design,
    filters: [
      { type: 'peaking', frequencyHz: 63.6, gainDb: -6.7, q: 4.374 },
      { type: 'highShelf', frequencyHz: 8226.2, gainDb: -3.45, q: 0.68 },
    ],
  };

  test.each(qConventionNames)('in the convention %s are the filters again when read back', (qConvention) => {
    const file = JSON.parse(text(one, { format: 'json', qConvention })) as {
      qConvention: QConventionName;
      filters: { type: 'peaking'; frequencyHz: number; gainDb: number; q: number }[];
    };
    expect(file.qConvention).toBe(qConvention);
    file.filters.forEach((filter, i) => {
      const back = filterFromSetting(filter, filter.q, qConvention, 48000)!;
      expect(Math.abs(back.q / one.filters[i]!.q - 1)).toBeLessThan(1e-9);
    });
  });

  test('give what is entered into the device, by its bands, where there is one', () => {
    const settings = design.filters.map(({ type, frequencyHz, gainDb }, i) => ({
      band: i + 3,
      type,
      frequencyHz,
      gainDb,
      q: 0.25 + i,
    }));
    const csv = text({ ...fixedDevice, deviceSettings: settings }, { format: 'csv' });
    const rows = csv.trimEnd().split('\r\n');
    expect(rows[0]).toContain('bandwidthOctaves; shelves: cookbook');
    expect(rows[0]).toMatch(/,sample rate \(Hz\),input gain \(dB\)$/);
    expect(rows[1]).toMatch(/^3,Peaking,63\.6,-6\.7,0\.25,"bandwidth in octaves between [^"]*",48000,-2\.8$/);
    expect(rows).toHaveLength(design.filters.length + 1);
  });

  test.each(['table', 'markdown'] as const)(
    'say as %s that there are no filters, and show no empty table',
    (format) => {
      const none = text({ ...design, filters: [], inputGainDb: 0 }, { format });
      expect(none).toContain('No filters: leave the equalizer flat.');
      expect(none).not.toContain('Gain (dB)');
      expect(text(design, { format })).toContain('Gain (dB)');
    },
  );

  test('refuse a convention that a filter has no value in', () => {
    const small: Design = { ...one, filters: [{ type: 'peaking', frequencyHz: 100, gainDb: 2, q: 1 }] };
    expect(() => text(small, { format: 'table', qConvention: 'threeDbQ' })).toThrow(
      /it has no value as "threeDbQ"/,
    );
  });

  test('in Markdown escape what a title may hold', () => {
    const titled = { ...design, title: '<b>*room*</b> | [x](y)' };
    const [first] = text(titled, { format: 'markdown' }).split('\n');
    expect(first).toBe('# \\<b\\>\\*room\\*\\</b\\> \\| \\[x\\](y)');
  });
});

test('every text format says what its Q means', () => {
  for (const format of exportFormats.filter((name) => !name.startsWith('fir'))) {
    const fixedPoint = { integerBits: 5, fractionBits: 23 };
    const made = text(design, { format, ...(format === 'hex' && { fixedPoint }) });
    expect(made.replace(/\s+/g, ' ')).toMatch(/cookbook/i);
  }
});

test.each([
  [{ format: 'hex' }, /--fixedPoint: found nothing/],
  [{ format: 'table', taps: 100 }, /--taps: found it beside the format table/],
  [{ format: 'c-header', qConvention: 'cookbook' as const }, /--qConvention: found it beside/],
  [
    { format: 'coefficients-csv', sampleRate: [16000] },
    /--sampleRate: found 16000 Hz, expected more than twice/,
  ],
])('%o is refused', (request, message) => {
  expect(() => exportDesign(design, request, nameOf)).toThrow(InputError);
  expect(() => exportDesign(design, request, nameOf)).toThrow(message);
});

test('a rate that the device does not have is refused', () => {
  const request = { format: 'c-header', sampleRate: [44100] };
  expect(() => exportDesign(fixedDevice, request, nameOf)).toThrow(/device "box" has: 48000, 96000 Hz/);
});

test.each([{ gainDb: 1e6 }, { gainDb: -201 }, { q: 1e-9 }, { q: 1e300 }])(
  'a filter of %o, whose coefficients no number could hold, is no design',
  (wrong) => {
    const filters = [{ ...design.filters[0]!, ...wrong }];
    expect(designSchema.safeParse({ ...design, filters }).success).toBe(false);
    expect(designSchema.safeParse(design).success).toBe(true);
  },
);
