import { describe, expect, test } from 'vitest';
import { design } from '../../src/design.js';
import { shippedDevices } from '../../src/device/profile/shippedDevices.js';
import { withFilters } from '../../src/pipeline/withFilters.js';
import type { Design } from '../../src/schema/design.js';
import { cookbookLevelDb } from '../fit/independentCheck.js';
import {
  bell,
  curveOf,
  lonelyNull,
  measurementOf,
  type Response,
  requestOf,
  sum,
  ventedFall,
} from '../pipeline/samples.js';

const designOf = (response: Response, options = {}) =>
  design(requestOf(measurementOf(curveOf(response)), options));
const eqAt = ({ filters, sampleRateHz }: Design, hz: number) => cookbookLevelDb(filters, sampleRateHz, hz);
const around = (centreHz: number, octaves: number) =>
  Array.from({ length: 81 }, (_, i) => centreHz * 2 ** (octaves * (i / 80 - 0.5)));
const codes = ({ warnings }: Design) => warnings.map(({ code }) => code);

describe('what a design leaves alone', () => {
  test('a flat curve gets no band, no finding, no zone', () => {
    const flat = designOf(() => 80);
    expect(flat.filters).toEqual([]);
    expect(flat.findings).toEqual([]);
    expect(flat.zones).toEqual([]);
    expect(flat.inputGainDb).toBe(0);
    expect(flat.levelDb).toBe(80);
  });

  test('a curve that follows its target gets no band', () => {
    const tilted = designOf((hz) => 75 - 0.8 * Math.log2(hz / 1000), { target: { tiltDbPerOctave: -0.8 } });
    expect(tilted.filters).toEqual([]);
    expect(tilted.levelDb).toBeCloseTo(75, 2);
  });

  test.each([60, 300, 1300])(
    'a null of 15 dB, a sixth of an octave wide, at %i Hz and nothing else',
    (centreHz) => {
      const null15 = designOf(sum(() => 80, lonelyNull(centreHz, 15, 1 / 6)));
      for (const hz of around(centreHz, 1 / 4)) expect(eqAt(null15, hz)).toBeLessThanOrEqual(0.5);
      expect(null15.filters).toEqual([]);
      const finding = null15.findings.find(({ kind }) => kind === 'dip');
      expect(finding).toMatchObject({ verdict: 'move' });
      expect(finding!.frequencyHz / centreHz).toBeCloseTo(1, 1);
      expect(codes(null15)).toContain('null-not-boosted');
    },
  );

  test('a null as a cookbook filter would carve it, whose skirts run on and on', () => {
    // −15 dB, a sixth of an octave between its half-gain points: Q = 1/(2 sinh(ln 2/12)), from the Cookbook's bandwidth.
    const carved = designOf(sum(() => 80, bell(300, -15, 8.65)));
    for (const hz of around(300, 1 / 2)) expect(eqAt(carved, hz)).toBeLessThanOrEqual(0.5);
    expect(carved.filters).toEqual([]);
  });

  test('the same null on a speaker with a fault of its own: the fault is mended, the null is not', () => {
    const both = designOf(sum(() => 80, lonelyNull(300, 15, 1 / 6), bell(2500, -4, 1)));
    for (const hz of around(300, 1 / 4)) expect(eqAt(both, hz)).toBeLessThanOrEqual(0.5);
    expect(eqAt(both, 2500) - eqAt(both, 9000)).toBeGreaterThan(3);
    expect(both.error.afterRmsDb).toBeLessThan(0.2);
  });
});

describe('what a design mends', () => {
  test.each([250, 1000, 3000])('a broad dip of 3 dB at %i Hz, the speaker’s own', (centreHz) => {
    const broad = designOf(sum(() => 80, bell(centreHz, -3, 1)));
    expect(broad.findings.every(({ verdict }) => verdict !== 'move')).toBe(true);
    expect(eqAt(broad, centreHz) - eqAt(broad, centreHz > 900 ? 60 : 12000)).toBeGreaterThan(2.5);
    expect(broad.error.afterRmsDb).toBeLessThan(0.1);
    // One band is all that it takes.
    expect(broad.filters.length).toBe(1);
  });

  test('nothing below the speaker’s corner', () => {
    const box = designOf(sum(() => 80, ventedFall(80), bell(1500, -3, 1)));
    expect(box.cornerHz! / 80).toBeCloseTo(1, 1);
    for (const hz of [10, 20, 30, 40, 50]) expect(eqAt(box, hz)).toBeLessThan(0.6);
    expect(codes(box)).not.toContain('boost-below-corner');
  });

  test('what lies below the corner where the user insists, with a warning', () => {
    const box = designOf(
      sum(() => 80, ventedFall(80)),
      { fromHz: 55, maxBoostDb: 9 },
    );
    expect(eqAt(box, 60)).toBeGreaterThan(3);
    expect(codes(box)).toEqual(expect.arrayContaining(['range-below-corner', 'boost-below-corner']));
  });
});

describe('what a design says', () => {
  test('that the target is out of reach, where it is', () => {
    const low = designOf(
      sum(() => 80, bell(1000, -12, 0.5)),
      { maxBoostDb: 3, maxLevelLossDb: 0.5 },
    );
    expect(codes(low)).toContain('target-out-of-reach');
  });

  test('that the target is out of reach, where the device has less boost than is allowed', () => {
    const device = shippedDevices.find(({ name }) => name === 'five-band-48k')!;
    const weak = { ...device, gainDb: { ...device.gainDb, max: 3 } };
    const curve = sum(() => 80, bell(1000, -12, 0.5));
    const low = designOf(curve, { device: weak, maxLevelLossDb: 0.5 });
    const warning = low.warnings.find(({ code }) => code === 'target-out-of-reach');
    expect(warning?.message).toContain('greatest boost of 3.0 dB');
    const byHand = withFilters(low, low.filters, { device: weak });
    expect(codes(byHand)).toContain('target-out-of-reach');
  });

  test('that the data end before the speaker does', () => {
    const measurement = measurementOf(
      curveOf(
        sum(() => 80, bell(1000, -3, 1)),
        400,
        200,
        9000,
      ),
    );
    const short = design(requestOf(measurement));
    expect(codes(short)).toContain('range-cut-by-data');
    expect(short.range.fromHz / 200).toBeCloseTo(1, 1);
  });

  test('what a measurement has to say already', () => {
    const measurement = {
      ...measurementOf(curveOf(() => 80)),
      warnings: [{ code: 'looks-gated', message: 'found by the reader' }],
    };
    expect(codes(design(requestOf(measurement)))).toEqual(['looks-gated']);
  });
});
