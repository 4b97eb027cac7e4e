import { describe, expect, test } from 'vitest';
import { logGrid } from '../../src/curve/logGrid.js';
import { design } from '../../src/design.js';
import type { DeviceProfile } from '../../src/device/profile/deviceProfile.js';
import { shippedDevices } from '../../src/device/profile/shippedDevices.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { Filter } from '../../src/filter/filter.js';
import { InputError } from '../../src/inputError.js';
import { DEFAULT_LIMITS, type DesignRequest } from '../../src/pipeline/designRequest.js';
import { realBank } from '../../src/pipeline/realBank.js';
import { withFilters } from '../../src/pipeline/withFilters.js';

/** A speaker with three faults that three bands mend exactly, over a gentle ripple. */
const FAULTS: readonly Filter[] = [
  { type: 'peaking', frequencyHz: 180, gainDb: 5, q: 2 },
  { type: 'peaking', frequencyHz: 900, gainDb: -4, q: 1.5 },
  { type: 'peaking', frequencyHz: 4000, gainDb: 4, q: 3 },
];

function request(more: Partial<DesignRequest> = {}): DesignRequest {
  const frequencyHz = logGrid(40, 16000, 24);
  const levelDb = bankResponseDb(FAULTS, 48000, frequencyHz).map((db, i) => 80 + db + 0.2 * Math.sin(i / 2));
  return {
    title: 'three faults (simulated)',
    measurements: [
      { fileName: 'faults.txt', curve: { frequencyHz, levelDb }, comments: [], rows: 200, warnings: [] },
    ],
    target: {},
    fromHz: 60,
    toHz: 15000,
    ...DEFAULT_LIMITS,
    bands: 4,
    ...more,
  };
}

const fitted = design(request());
const held: Filter = { type: 'peaking', frequencyHz: 1500, gainDb: -3, q: 1 };

test('a filter above half the sample rate is refused, whether held or put in', () => {
  const high: Filter = { ...held, frequencyHz: 15000 };
  const words = /found a filter at 15000 Hz, expected less than 8000 Hz, half the sample rate/;
  const slow = request({ sampleRateHz: 16000, toHz: 7000 });
  expect(() => design({ ...slow, held: [high] })).toThrow(InputError);
  expect(() => design({ ...slow, held: [high] })).toThrow(words);
  expect(() => withFilters(design(slow), [held, high])).toThrow(words);
  expect(withFilters(design(slow), [held]).filters).toEqual([held]);
});

describe('filters that are held', () => {
  const around = design(request({ held: [held] }));

  test('stay as they are, and count among the bands', () => {
    expect(around.filters).toContainEqual(held);
    expect(around.filters.length).toBeLessThanOrEqual(4);
  });

  test('are worked around: with them the others come nearer than the others of a fit without them', () => {
    const others = fitted.filters.slice(0, 3);
    const blind = withFilters(fitted, [...others, held]);
    expect(around.error.afterRmsDb).toBeLessThan(blind.error.afterRmsDb);
  });

  test('leave no band for others where they are as many as are allowed', () => {
    const only = design(request({ held: [held], bands: 1 }));
    expect(only.filters).toEqual([held]);
  });

  test('spend of the greatest boost: the sum keeps below it', () => {
    const boosting: Filter = { type: 'peaking', frequencyHz: 1000, gainDb: 3, q: 1 };
    const { eq } = design(request({ held: [boosting], maxBoostDb: 3 }));
    expect(eq.maxDb).toBeLessThanOrEqual(3.01);
  });

  test('take the bands of a device that they need, and the rest is fitted into the others', () => {
    const device = shippedDevices[0]!;
    const bound = design(request({ device, bands: 3, held: [held] }));
    const bands = bound.deviceSettings!.map(({ band }) => band);
    expect(new Set(bands).size).toBe(bound.filters.length);
    expect(
      bound.filters.some(
        ({ frequencyHz, gainDb }) => Math.abs(frequencyHz / 1500 - 1) < 0.15 && gainDb === -3,
      ),
    ).toBe(true);
  });
});

describe('a bank changed by hand', () => {
  test('gives the figures of the fit where it is the fit’s own', () => {
    const same = withFilters(fitted, fitted.filters);
    // The curves of a design are rounded to 0.001 dB, and so can the figures be off.
    expect(Math.abs(same.error.afterRmsDb - fitted.error.afterRmsDb)).toBeLessThan(0.003);
    expect(same.inputGainDb).toBe(fitted.inputGainDb);
    expect(same.eq).toEqual(fitted.eq);
  });

  test('needs the input gain that its own sum asks for, and says where it goes beyond the limits', () => {
    const loud = withFilters(fitted, [{ type: 'peaking', frequencyHz: 500, gainDb: 9, q: 2 }]);
    expect(loud.inputGainDb).toBeCloseTo(-9, 1);
    expect(loud.warnings.map(({ code }) => code)).toContain('boost-beyond-limit');
    expect(withFilters(loud, []).warnings.map(({ code }) => code)).not.toContain('boost-beyond-limit');
    expect(withFilters(loud, []).inputGainDb).toBe(0);
  });

  test('is judged about the level that suits it best, unless the level was given', () => {
    const lower: Filter = { type: 'lowShelf', frequencyHz: 15000, gainDb: -4, q: 0.7 };
    const free = withFilters(fitted, [lower]);
    const kept = withFilters(fitted, [lower], { keepLevel: true });
    expect(kept.levelDb).toBe(fitted.levelDb);
    expect(free.levelDb).toBeLessThan(fitted.levelDb - 2);
    expect(free.error.afterRmsDb).toBeLessThan(kept.error.afterRmsDb);
  });

  test('warns of a boost inside a span that is to be left alone', () => {
    const zoned = { ...fitted, zones: [{ fromHz: 400, toHz: 600 }] };
    const boosted = withFilters(zoned, [{ type: 'peaking', frequencyHz: 500, gainDb: 3, q: 4 }]);
    expect(boosted.warnings.find(({ code }) => code === 'zone-boosted-by-hand')?.message).toMatch(
      /3\.0 dB at 5\d\d Hz|3\.0 dB at 49\d Hz|3\.0 dB at 500 Hz/,
    );
  });

  test('goes to the nearest values that a device has, and is refused where it has no band for it', () => {
    const device = shippedDevices[0]!;
    const { filters, fields } = realBank(
      [{ type: 'peaking', frequencyHz: 1010, gainDb: -3.2, q: 1.23 }],
      48000,
      device,
    );
    expect(filters).toEqual([{ type: 'peaking', frequencyHz: 1000, gainDb: -3, q: 1.2 }]);
    expect(fields.deviceSettings).toEqual([
      { band: 1, type: 'peaking', frequencyHz: 1000, gainDb: -3, q: 1.2 },
    ]);
    const shelf: Filter = { type: 'lowShelf', frequencyHz: 100, gainDb: 2, q: 0.7 };
    expect(() => realBank([shelf, { ...shelf, frequencyHz: 200 }], 48000, device)).toThrow(InputError);
  });

  test('says what a device means by its number where that has no such filter', () => {
    const device: DeviceProfile = { ...shippedDevices[0]!, qConvention: 'threeDbQ' };
    const faint: Filter = { type: 'peaking', frequencyHz: 157.49013123685918, gainDb: 2, q: 1 };
    const refused = () => realBank([faint], 48000, device);
    expect(refused).toThrow(
      /found no filter of 15\d(\.\d{1,3})? Hz and 2 dB .*needs more than 3\.01 dB.*expected another gain/,
    );
    expect(() => realBank([{ ...faint, gainDb: 4 }], 48000, device)).not.toThrow();
  });

  test('leaves a device the headroom that it lacks between its bands, and states its delay', () => {
    const tight: DeviceProfile = {
      ...shippedDevices[0]!,
      headroomDb: 0,
      delay: { fixedSamples: 32, perBandSamples: 3 },
    };
    // The first band lifts what the second takes back: the sum of all rises far less than the first alone.
    const opposed: readonly Filter[] = [
      { type: 'peaking', frequencyHz: 800, gainDb: 6, q: 1 },
      { type: 'peaking', frequencyHz: 1000, gainDb: -6, q: 1 },
    ];
    const changed = withFilters(fitted, opposed, { device: tight });
    expect(changed.eq.maxDb).toBeLessThan(4);
    expect(changed.inputGainDb).toBe(-6);
    expect(changed.device).toMatchObject({ headroomDb: 0, insideMaxDb: 6, delay: { samples: 38 } });
    const { inputGainDb, device } = withFilters(fitted, opposed, { device: shippedDevices[0]! });
    expect(inputGainDb).toBeCloseTo(-changed.eq.maxDb, 1);
    expect(device).not.toHaveProperty('delay');
  });

  test('a band at 0 dB is off and does not delay', () => {
    const slow: DeviceProfile = { ...shippedDevices[0]!, delay: { perBandSamples: 5 } };
    const flat: Filter = { type: 'peaking', frequencyHz: 500, gainDb: 0, q: 1 };
    expect(realBank([held, flat], 48000, slow).fields.device?.delay?.samples).toBe(5);
  });
});
