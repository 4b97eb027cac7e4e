import { describe, expect, test } from 'vitest';
import { InputError } from '../../src/inputError.js';
import { chooseRange } from '../../src/pipeline/chooseRange.js';
import { curveOf, sum, ventedFall } from './samples.js';

const RATE = 48000;
const flat = () => 80;
/** A box with a corner at 70 Hz that falls off above 8 kHz. */
const box = sum(flat, ventedFall(70), (hz) => -10 * Math.log10(1 + (hz / 8000) ** 12));
const codes = ({ warnings }: { warnings: readonly { code: string }[] }) => warnings.map(({ code }) => code);

describe('the range', () => {
  test('is where the speaker plays: from its corner to where it falls for good', () => {
    const chosen = chooseRange(curveOf(box), {}, RATE);
    expect(chosen.range.fromHz / 70).toBeGreaterThan(0.93);
    expect(chosen.range.fromHz / 70).toBeLessThan(1.1);
    // −10 dB: (f/8000)^12 = 9, f = 9.6 kHz.
    expect(chosen.range.toHz / 9607).toBeCloseTo(1, 1);
    expect(chosen.cornerHz).toBeCloseTo(chosen.range.fromHz, 6);
    expect(chosen.boostFromHz).toBeCloseTo(chosen.range.fromHz, 6);
    expect(chosen.warnings).toEqual([]);
    expect(chosen.explanation).toContain('corner');
  });

  test('is as asked, wherever that lies in the data', () => {
    const chosen = chooseRange(curveOf(box), { fromHz: 100, toHz: 5000 }, RATE);
    expect(chosen.range).toEqual({ fromHz: 100, toHz: 5000 });
    expect(chosen.explanation).toContain('as asked');
    expect(chosen.warnings).toEqual([]);
    // Between the corner and the range there is no reason to hold boost back.
    expect(chosen.boostFromHz).toBeLessThan(90);
  });

  test('may be asked up to the very ends of the data', () => {
    // The grid's first and last points lie a little inside the data.
    const onGrid = curveOf(flat, 480, 20.26, 19870);
    const { range } = chooseRange(onGrid, { fromHz: 20, toHz: 20000 }, RATE);
    expect(range.fromHz).toBeCloseTo(20.26, 6);
    expect(range.toHz).toBeCloseTo(19870, 6);
  });

  test.each([
    [{ fromHz: 10 }, '--from'],
    [{ fromHz: 25000 }, '--from'],
    [{ toHz: 24000 }, '--to'],
    [{ toHz: 15 }, '--to'],
  ])('asked outside the data is refused with what was found and expected: %o', (asked, option) => {
    const refused = () => chooseRange(curveOf(flat), asked, RATE);
    expect(refused).toThrow(InputError);
    expect(refused).toThrow(new RegExp(`${option}: found .*expected .*20(\\.0)? Hz`));
  });

  test.each([[{ fromHz: 2000, toHz: 1000 }], [{ fromHz: 1000, toHz: 1100 }]])(
    'turned round or narrower than a third of an octave is refused: %o',
    (asked) => {
      expect(() => chooseRange(curveOf(flat), asked, RATE)).toThrow(/third of an octave/);
    },
  );

  test('of a curve in kilohertz that says it is in hertz is refused with the way to say so', () => {
    const hertz = curveOf(box);
    const kilohertz = { ...hertz, frequencyHz: hertz.frequencyHz.map((hz) => hz / 1000) };
    expect(() => chooseRange(kilohertz, {}, RATE)).toThrow(/in kHz, .*"frequency \(kHz\)" in a heading line/);
    expect(() => chooseRange(hertz, { fromHz: 1000, toHz: 1100 }, RATE)).toThrow(/^(?!.*kHz, name)/);
  });

  test('asked below the speaker’s corner is kept, and said', () => {
    const chosen = chooseRange(curveOf(box), { fromHz: 30 }, RATE);
    expect(chosen.range.fromHz).toBe(30);
    expect(codes(chosen)).toEqual(['range-below-corner']);
    expect(chosen.warnings[0]!.message).toContain('30');
    expect(chosen.cornerHz! / 70).toBeCloseTo(1, 0);
    // The user insists: the limit on boost goes along.
    expect(chosen.boostFromHz).toBe(30);
  });

  test('ends with the data, and says so where the speaker goes on', () => {
    const narrow = chooseRange(curveOf(flat, 400, 200, 8000), {}, RATE);
    expect(narrow.range.fromHz).toBeCloseTo(200, 6);
    expect(narrow.range.toHz).toBeCloseTo(8000, 6);
    expect(codes(narrow)).toEqual(['range-cut-by-data']);
    expect(narrow.warnings[0]!.message).toMatch(/below 200 Hz and above 8/);
    expect(narrow.cornerHz).toBeUndefined();
    // A shelf would lift all below, of which nothing is known.
    expect(narrow.boostFromHz).toBe(narrow.range.fromHz);
    expect(narrow.warnings[0]!.message).toMatch(/nor boosted below 200 Hz/);
    const asked = chooseRange(curveOf(flat, 400, 200, 8000), { fromHz: 300, toHz: 6000 }, RATE);
    expect(codes(asked)).toEqual([]);
    expect(asked.boostFromHz).toBeUndefined();
  });

  test('keeps to the audible band where the data reach farther', () => {
    const { range } = chooseRange(curveOf(flat, 900, 5, 40000), {}, 192000);
    expect(range).toEqual({ fromHz: 20, toHz: 20000 });
    expect(chooseRange(curveOf(flat), {}, RATE).boostFromHz).toBeUndefined();
  });

  test('stays clear of half the sample rate, and says so', () => {
    const chosen = chooseRange(curveOf(flat), {}, 32000);
    expect(chosen.range.toHz).toBeCloseTo(14400, 6);
    expect(codes(chosen)).toEqual(['range-cut-by-sample-rate']);
    expect(codes(chooseRange(curveOf(flat), { toHz: 10000 }, 32000))).toEqual([]);
  });

  test('begins where a gated measurement is resolved, and says so', () => {
    const trust = { fromHz: 250, toHz: 20000, resolvedFromHz: 250 };
    const chosen = chooseRange(curveOf(flat), {}, RATE, trust);
    expect(chosen.range.fromHz).toBe(250);
    expect(chosen.unknownBelow).toBe(true);
    expect(chosen.boostFromHz).toBe(250);
    expect(codes(chosen)).toContain('range-cut-by-gate');
  });

  test('ends where a measurement drowns in noise, and says so', () => {
    const trust = { fromHz: 60, toHz: 9000, resolvedFromHz: 10 };
    const chosen = chooseRange(curveOf(flat), {}, RATE, trust);
    expect(chosen.range).toEqual({ fromHz: 60, toHz: 9000 });
    expect(codes(chosen)).toContain('range-cut-by-noise');
  });
});
