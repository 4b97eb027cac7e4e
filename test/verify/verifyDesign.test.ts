import { describe, expect, test } from 'vitest';
import type { Curve } from '../../src/curve/curve.js';
import { logGrid } from '../../src/curve/logGrid.js';
import { resampleToGrid } from '../../src/curve/resampleToGrid.js';
import { verificationText } from '../../src/export/text/verificationText.js';
import type { Filter } from '../../src/filter/filter.js';
import { filterFromSetting, type QConventionName, qConventionNames } from '../../src/filter/qConventions.js';
import { InputError } from '../../src/inputError.js';
import { verificationSchema } from '../../src/schema/verification.js';
import { verifyDesign } from '../../src/verify/verifyDesign.js';
import { bank, before, curveOf, designOf, measuredWith, roomDb, sampleRateHz } from './smallRoom.js';

const design = designOf();
const replaced = (index: number, other: Partial<Filter>) =>
  bank.map((filter, i) => (i === index ? { ...filter, ...other } : filter));
const firstFault = (filters: readonly Filter[], options: Parameters<typeof measuredWith>[1] = {}) => {
  const result = verifyDesign({ design, after: measuredWith(filters, options) });
  expect(result.asPromised).toBe(false);
  return result.faults[0]!;
};

describe('a faultless installation', () => {
  test.each([2, 3, 4])('is as promised with noise of 0.3 dB and another path by 2 cm (noise %i)', (seed) => {
    const result = verifyDesign({ design, after: measuredWith(bank, { seed }) });
    expect(result.faults).toEqual([]);
    expect(result.asPromised).toBe(true);
    expect(result.errorRmsDb).toBeLessThan(1);
    // measuredWith() is 5 dB quieter.
    expect(Math.abs(result.levelShiftDb + 5)).toBeLessThan(0.3);
    expect(verificationText(result)).toMatch(/\nAs promised\./);
  });

  test('is not laid to a microphone put back where octaves lie far beyond what that leaves', () => {
    const result = verifyDesign({ design, after: measuredWith(bank) });
    expect(verificationText(result)).not.toContain('<-');
    const apart = (centreHz: number) => ({
      ...result.octaves[0]!,
      centreHz,
      differenceRmsDb: 4.6,
      expectedRmsDb: 1.9,
    });
    const others = result.octaves.filter(({ centreHz }) => centreHz !== 4000 && centreHz !== 8000);
    const text = verificationText({ ...result, octaves: [...others, apart(4000), apart(8000)] });
    expect(text.match(/<-/g)).toHaveLength(2);
    expect(text.replace(/\s+/g, ' ')).toContain(
      'As promised, as far as this measurement tells: no fault of the filters',
    );
    expect(text.replace(/\s+/g, ' ')).toContain('around 4 kHz and 8 kHz more than twice what noise');
    expect(text).not.toContain('centimetres off leave it.');
  });

  test('has the promised and the measured gain side by side in every octave', () => {
    const { octaves } = verifyDesign({ design, after: measuredWith(bank) });
    expect(octaves.map(({ centreHz }) => centreHz)).toEqual([
      62.5, 125, 250, 500, 1000, 2000, 4000, 8000, 16000,
    ]);
    for (const { promisedDb, measuredDb } of octaves)
      expect(Math.abs(promisedDb - measuredDb)).toBeLessThan(0.6);
  });
});

describe('one slip', () => {
  test.each([0, 1, 2, 3])('filter %i left out is named', (index) => {
    const fault = firstFault(bank.filter((_, i) => i !== index));
    expect(fault).toMatchObject({ type: 'filterMissing', filter: index });
    expect(fault.explains).toBeGreaterThanOrEqual(0.3);
    expect(fault.message).toContain(`Filter ${index + 1} `);
    expect(fault.fix).toContain(`${bank[index]!.frequencyHz} Hz`);
  });

  test.each([0, 1, 2, 3])('the wrong sign of filter %i is named', (index) => {
    const fault = firstFault(replaced(index, { gainDb: -bank[index]!.gainDb }));
    expect(fault).toMatchObject({ type: 'gainSign', filter: index, gainDb: -bank[index]!.gainDb });
  });

  test('one kind of shelf entered for the other looks like the wrong sign, and is told as what it may be', () => {
    const fault = firstFault(replaced(3, { type: 'lowShelf' }));
    expect(fault).toMatchObject({ type: 'gainSign', filter: 3 });
    expect(fault.fix).toContain('and that it is a high shelf: the other shelf with the same gain');
    expect(firstFault(replaced(2, { gainDb: -bank[2]!.gainDb })).fix).toMatch(/Mind the minus sign\.$/);
  });

  test.each([
    [0, 612, 'decimal point'],
    [1, 138, undefined],
    [2, 482, 'swapped'],
    [3, 7300, undefined],
  ])('filter %i at %f Hz is named with that frequency', (index, frequencyHz, slip) => {
    const fault = firstFault(replaced(index, { frequencyHz }));
    expect(fault).toMatchObject({ type: 'frequencyWrong', filter: index });
    expect(Math.abs(Math.log2(fault.frequencyHz! / frequencyHz))).toBeLessThan(0.1);
    if (slip) expect(fault.message).toContain(slip);
  });

  test('filters that do nothing are named as a whole', () => {
    expect(firstFault([])).toMatchObject({ type: 'bypassed' });
    expect(firstFault([])).not.toHaveProperty('filter');
  });

  test('signs turned in all filters are named as a whole', () => {
    const fault = firstFault(bank.map((filter) => ({ ...filter, gainDb: -filter.gainDb })));
    expect(fault.type).toBe('gainSign');
    expect(fault).not.toHaveProperty('filter');
    expect(fault.fix).not.toMatch(/exchanged: the one given/);
  });

  test('two measurements given the other way round are thought of before the signs', () => {
    const [fault] = verifyDesign({ design, after: measuredWith([]), before: measuredWith(bank) }).faults;
    expect(fault).toMatchObject({ type: 'gainSign' });
    expect(fault).not.toHaveProperty('filter');
    expect(fault!.fix).toMatch(
      /^See first that the two measurements are not exchanged: the one given with --before/,
    );
  });

  test.each([
    [44100 / 48000, 48000, 44100],
    [48000 / 44100, 44100, 48000],
    [2, 48000, 96000],
  ])('a response stretched by %f is laid to the sample rate', (stretch, madeForHz, runningAtHz) => {
    expect(firstFault(bank, { stretch })).toMatchObject({ type: 'sampleRate', madeForHz, runningAtHz });
  });

  test('coefficients made for another rate than the design runs at are not to be fitted for the same rate again', () => {
    const { madeForHz, fix } = firstFault(bank, { stretch: 48 / 44.1 });
    expect(madeForHz).toBe(44100);
    expect(fix).toContain('run at the rate of the design, 48 kHz');
    expect(fix).not.toContain('--sample-rate');
    expect(firstFault(bank, { stretch: 2 }).fix).toContain('--sample-rate for that rate (96 kHz');
  });

  test.each(['bandwidthOctaves', 'poleQ', 'threeDbQ'] as const)(
    'Q taken for %s is named, and the readings are ranked',
    (name: QConventionName) => {
      const filters = bank.map((filter) => filterFromSetting(filter, filter.q, name, sampleRateHz) ?? filter);
      const result = verifyDesign({ design, after: measuredWith(filters) });
      expect(result.faults[0]).toMatchObject({ type: 'qConvention' });
      const best = result.qConventions[0]!.explains;
      const named = result.qConventions.find((c) => c.name === name && c.direction === 'entered')!;
      expect(named.explains).toBeGreaterThan(best - 0.05);
      const text = verificationText(result);
      expect(text).toContain('Readings of Q that explain most');
      // Names of code are for programs; the one that goes into a device file stands in quotes.
      const words = text.replace(/"\w+"/g, '');
      for (const code of qConventionNames.filter((n) => n !== 'cookbook')) expect(words).not.toContain(code);
    },
  );

  test('Q taken for bandwidths in Hz, narrower than any cell of the comparison, is named as one thing', () => {
    const [first, second, third] = bank as readonly [Filter, Filter, Filter];
    const peaks = [first, second, third].map((filter) => ({ ...filter, q: filter.q / 2 }));
    const narrow = peaks.map((filter) => filterFromSetting(filter, filter.q, 'bandwidthHz', sampleRateHz)!);
    const { faults } = verifyDesign({ design: designOf(peaks), after: measuredWith(narrow) });
    expect(faults).toHaveLength(1);
    expect(faults[0]).toMatchObject({ type: 'qConvention', convention: 'bandwidthHz' });
  });

  test('a speaker that has moved is named, with where its cancellation went', () => {
    const result = verifyDesign({ design, after: measuredWith(bank, { distanceM: 0.38 }) });
    expect(result.faults[0]).toMatchObject({ type: 'speakerMoved' });
    expect(result.faults[0]!.fix).toContain('Only then can it be told whether the filters are right');
    // A quarter of a wavelength in 0.30 m and in 0.38 m.
    const shift = result.shifted.find(({ beforeHz }) => Math.abs(Math.log2(beforeHz / 286)) < 0.2);
    expect(Math.abs(Math.log2(shift!.afterHz / shift!.beforeHz) - Math.log2(0.3 / 0.38))).toBeLessThan(0.15);
  });
});

describe('what no single filter does', () => {
  test.each([0.5, 2])('gains that all act %f times are named as one thing', (share) => {
    const fault = firstFault(bank.map((filter) => ({ ...filter, gainDb: share * filter.gainDb })));
    expect(fault.type).toBe('unknown');
    expect(fault).not.toHaveProperty('filter');
    expect(fault.message).toContain(`All filters act with about ${100 * share} %`);
  });

  test('a microphone of another tone is not taken for a speaker that moved', () => {
    const { frequencyHz, levelDb } = measuredWith(bank);
    const warmer = levelDb.map((db, i) => db - 1.2 * Math.log2(frequencyHz[i]! / 1000));
    const { faults } = verifyDesign({ design, after: { frequencyHz, levelDb: warmer } });
    expect(faults.map(({ type }) => type)).toEqual(['unknown']);
    expect(faults[0]!.message).toContain('calibration');
  });
});

test('advice gives numbers as they are typed, of the device where there is one', () => {
  const rough: Filter[] = [{ ...bank[0]!, q: 4.795829872376451 }, ...bank.slice(1)];
  const after = measuredWith(bank.slice(1));
  const plain = verifyDesign({ design: designOf(rough), after }).faults[0]!;
  expect(plain.fix).toContain('Enter filter 1 again: peaking, 61.2 Hz, -6.3 dB, Q 4.7958.');
  const forDevice = {
    ...designOf(rough),
    device: { name: 'box', sampleRatesHz: [sampleRateHz], qConvention: 'bandwidthOctaves' as const },
    deviceSettings: rough.map(({ type, frequencyHz, gainDb }, i) => ({
      band: i + 4,
      type,
      frequencyHz,
      gainDb,
      q: 0.3,
    })),
  };
  const { message, fix } = verifyDesign({ design: forDevice, after }).faults[0]!;
  expect(fix).toContain(
    'Enter it again in band 4 of the equalizer: peaking, 61.2 Hz, -6.3 dB, bandwidth 0.3 octaves.',
  );
  expect(message).toContain('Filter 1, band 4 of the equalizer (peaking, 61.2 Hz, ');
  expect(plain.message).toContain('Filter 1 (peaking, ');
});

test.each([
  ['filterMissing', 'filterMissing'],
  ['gainSign', 'filterMissing'],
] as const)(
  'two large filters of opposite gain (%s, %s) are not taken for one in a wrong place',
  (first, second) => {
    const filters: Filter[] = [
      { type: 'highShelf', frequencyHz: 146, gainDb: -1, q: 3 },
      { type: 'peaking', frequencyHz: 1551, gainDb: 6, q: 1.28 },
      { type: 'highShelf', frequencyHz: 2329, gainDb: 4.8, q: 2.76 },
      { type: 'peaking', frequencyHz: 4569, gainDb: 6, q: 6.2 },
      { type: 'peaking', frequencyHz: 4764, gainDb: -8.8, q: 1 },
    ];
    const actual = filters.flatMap((filter, i): Filter[] =>
      i === 4 ? [] : i !== 1 ? [filter] : first === 'gainSign' ? [{ ...filter, gainDb: -filter.gainDb }] : [],
    );
    const { faults } = verifyDesign({ design: designOf(filters), after: measuredWith(actual) });
    const named = faults.map(({ type, filter }) => ({ type, filter }));
    expect(named).toHaveLength(2);
    expect(named).toContainEqual({ type: first, filter: 1 });
    expect(named).toContainEqual({ type: second, filter: 4 });
  },
);

test('two slips are both named', () => {
  const filters = replaced(0, { gainDb: 6.3 }).filter((_, i) => i !== 2);
  const { faults } = verifyDesign({ design, after: measuredWith(filters) });
  expect(faults.map(({ type, filter }) => `${type} ${filter}`).sort()).toEqual([
    'filterMissing 2',
    'gainSign 0',
  ]);
});

describe('left and right', () => {
  const otherRoom = curveOf((hz) => roomDb(hz, 0.55) + 3 * Math.cos(2.3 * Math.log2(hz)), 9);
  const otherBank: readonly Filter[] = [
    { type: 'peaking', frequencyHz: 95, gainDb: -5, q: 2 },
    { type: 'peaking', frequencyHz: 420, gainDb: 4, q: 1.5 },
    { type: 'lowShelf', frequencyHz: 150, gainDb: 3, q: 0.71 },
  ];
  const other = { bank: { filters: otherBank, sampleRateHz }, before: otherRoom };

  test("the other channel's filters are recognised where its design is given", () => {
    const { faults } = verifyDesign({ design, after: measuredWith(otherBank), other });
    expect(faults[0]).toMatchObject({ type: 'channelsSwapped' });
    expect(faults[0]!.message).toContain("other channel's filters");
  });

  test('the other speaker behind these filters is recognised from its curve alone', () => {
    const { frequencyHz, levelDb } = measuredWith(bank, { distanceM: 0.3 });
    const swapped = {
      frequencyHz,
      levelDb: levelDb.map((db, i) => db - before.levelDb[i]! + otherRoom.levelDb[i]!),
    };
    const { faults } = verifyDesign({ design, after: swapped, other: { before: otherRoom } });
    expect(faults[0]).toMatchObject({ type: 'channelsSwapped' });
  });

  test('nothing is said to be swapped where nothing is', () => {
    expect(verifyDesign({ design, after: measuredWith(bank), other }).faults).toEqual([]);
  });

  test("the other channel's curve may end where the range does, or a little before", () => {
    const within = (curve: Curve, fromHz: number, toHz: number): Curve => {
      const kept = Array.from(curve.frequencyHz, (hz) => hz >= fromHz && hz <= toHz);
      return {
        frequencyHz: curve.frequencyHz.filter((_, i) => kept[i]),
        levelDb: curve.levelDb.filter((_, i) => kept[i]),
      };
    };
    const after = measuredWith(otherBank);
    const short = { ...other, before: within(other.before, 48, 14000) };
    expect(verifyDesign({ design, after, other: short }).faults[0]).toMatchObject({
      type: 'channelsSwapped',
    });
    const shorter = { ...other, before: within(other.before, 200, 14000) };
    expect(() => verifyDesign({ design, after, other: shorter })).toThrow(InputError);
  });

  test('without the other channel nothing is claimed about it', () => {
    const { faults } = verifyDesign({ design, after: measuredWith(otherBank) });
    expect(faults.length).toBeGreaterThan(0);
    expect(faults.map(({ type }) => type)).not.toContain('channelsSwapped');
  });
});

describe('what is given', () => {
  test('an earlier measurement takes the place of the curve in the design, whatever its microphone', () => {
    const bent = (db: number, i: number) => db + 4 * Math.sin(i / 60);
    const otherwise = {
      design,
      before: { ...before, levelDb: before.levelDb.map(bent) },
      after: { ...before, levelDb: measuredWith(bank).levelDb.map(bent) },
    };
    expect(verifyDesign(otherwise).asPromised).toBe(true);
    const { before: _, ...without } = otherwise;
    expect(verifyDesign(without).asPromised).toBe(false);
  });

  test('a design without filters asks only that nothing changed', () => {
    const plain = designOf([]);
    expect(verifyDesign({ design: plain, after: measuredWith([]) }).asPromised).toBe(true);
    expect(verifyDesign({ design: plain, after: measuredWith(bank) }).asPromised).toBe(false);
  });

  test('the result is a verification, the same twice', () => {
    const once = verifyDesign({ design, after: measuredWith([]) });
    expect(verificationSchema.parse(once)).toEqual(once);
    expect(verifyDesign({ design, after: measuredWith([]) })).toEqual(once);
  });

  test.each([
    ['after', 1, 'about 1 point an octave'],
    ['before', 3, 'about 3 points an octave'],
  ] as const)(
    'a measurement (%s) of %f points an octave is too coarse to tell',
    (which, perOctave, words) => {
      const curves = { before, after: measuredWith(bank) };
      const coarse = resampleToGrid(curves[which], logGrid(20, 20000, perOctave));
      const request = {
        design,
        ...curves,
        [which]: coarse,
        fileNames: { after: 'on.txt', before: 'off.txt' },
      };
      const file = which === 'after' ? 'on.txt' : 'off.txt';
      expect(() => verifyDesign(request)).toThrow(InputError);
      expect(() => verifyDesign(request)).toThrow(`${file} is too coarse`);
      expect(() => verifyDesign(request)).toThrow(words);
      expect(() => verifyDesign(request)).toThrow('expected at least 8');
    },
  );

  test('twelve points an octave are compared, with a warning; twenty-four without', () => {
    const thinned = (perOctave: number) => {
      const after = resampleToGrid(measuredWith(bank), logGrid(20, 20000, perOctave));
      return verifyDesign({ design, after }).warnings.map(({ code }) => code);
    };
    expect(thinned(12)).toEqual(['coarse-measurement']);
    expect(thinned(24)).toEqual([]);
  });

  test('a coarse file that is given for both is told of once, two of them each', () => {
    const after = resampleToGrid(measuredWith(bank), logGrid(20, 20000, 12));
    const said = (fileName: string) =>
      verifyDesign({
        design,
        after,
        before: after,
        fileNames: { after: 'on.txt', before: fileName },
      }).warnings.filter(({ code }) => code === 'coarse-measurement');
    expect(said('on.txt')).toHaveLength(1);
    expect(said('off.txt')).toHaveLength(2);
  });

  test('curves that share no octave with the design are refused', () => {
    const high = { frequencyHz: Float64Array.of(17000, 18000, 19000), levelDb: Float64Array.of(1, 2, 3) };
    expect(() => verifyDesign({ design, after: high })).toThrow(InputError);
  });
});
