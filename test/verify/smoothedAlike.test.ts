import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../fixtures/simulate/seededRandom.js';
import type { Curve } from '../../src/curve/curve.js';
import { smoothOctave } from '../../src/curve/smoothOctave.js';
import { promiseWords } from '../../src/export/words/promiseWords.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { Filter } from '../../src/filter/filter.js';
import { smoothedAlike } from '../../src/verify/smoothedAlike.js';
import { verifyDesign } from '../../src/verify/verifyDesign.js';
import { bank, before, designOf, measuredWith, sampleRateHz } from './smallRoom.js';

/** Twelve late reflections, alike in both measurements (simulated): fine structure up to the top. */
const random = seededRandom(4711);
const echoes = Array.from({ length: 12 }, () => ({
  delayS: 0.004 + 0.02 * random(),
  share: 0.15 * random(),
}));
const lively = ({ frequencyHz, levelDb }: Curve): Curve => ({
  frequencyHz,
  levelDb: levelDb.map((db, i) => {
    let [re, im] = [1, 0];
    for (const { delayS, share } of echoes) {
      const phase = 2 * Math.PI * frequencyHz[i]! * delayS;
      re += share * Math.cos(phase);
      im -= share * Math.sin(phase);
    }
    return db + 20 * Math.log10(Math.hypot(re, im));
  }),
});
const off = lively(before);
const designOfLively = (filters: readonly Filter[] = bank) => {
  const made = designOf(filters);
  return { ...made, curves: { ...made.curves, measuredDb: Array.from(off.levelDb) } };
};
const over = (part: number, curve: Curve) => smoothOctave(curve, 1 / part);
const replaced = (index: number, other: Partial<Filter>) =>
  bank.map((filter, i) => (i === index ? { ...filter, ...other } : filter));

describe.each([12, 6, 3])('where the new measurement was smoothed over 1/%i octave', (part) => {
  const check = (filters: readonly Filter[], distanceM?: number) =>
    verifyDesign({
      design: designOfLively(),
      after: over(part, lively(measuredWith(filters, { ...(distanceM !== undefined && { distanceM }) }))),
    });

  test('right filters are as promised', () => {
    const { faults, errorRmsDb } = check(bank);
    expect(faults).toEqual([]);
    expect(errorRmsDb).toBeLessThan(0.7);
  });

  test.each([0, 2])('filter %i is named where it is missing', (index) => {
    const { faults } = check(bank.filter((_, i) => i !== index));
    expect(faults).toHaveLength(1);
    expect(faults[0]).toMatchObject({ type: 'filterMissing', filter: index });
  });

  test('a wrong sign, a bypass and a speaker that was moved are named', () => {
    expect(check(replaced(2, { gainDb: 4.8 })).faults[0]).toMatchObject({ type: 'gainSign', filter: 2 });
    expect(check([]).faults[0]).toMatchObject({ type: 'bypassed' });
    expect(check(bank, 0.5).faults[0]).toMatchObject({ type: 'speakerMoved' });
  });
});

test('where the first one was smoothed, the new one is smoothed alike', () => {
  const check = (filters: readonly Filter[]) =>
    verifyDesign({ design: designOfLively(), before: over(3, off), after: lively(measuredWith(filters)) });
  expect(check(bank).faults).toEqual([]);
  expect(check(bank.slice(1)).faults[0]).toMatchObject({ type: 'filterMissing', filter: 0 });
});

test('what a mean shows of a filter is the mean with it over the mean without', () => {
  const filters: readonly Filter[] = [{ type: 'peaking', frequencyHz: 1000, gainDb: 9, q: 6 }];
  const { frequencyHz } = off;
  const eqDb = bankResponseDb(filters, sampleRateHz, frequencyHz);
  const on = { frequencyHz, levelDb: off.levelDb.map((db, i) => db + eqDb[i]!) };
  const alike = smoothedAlike(off, on, { before: 0, after: 1 / 3 });
  const shown = alike.throughFor(frequencyHz).shownDb(eqDb);
  const expected = over(3, on).levelDb.map((db, i) => db - over(3, off).levelDb[i]!);
  expect(Math.max(...shown.map((db, i) => Math.abs(db - expected[i]!)))).toBeLessThan(1e-9);
  expect(Math.max(...shown)).toBeLessThan(8);
});

test('a filter of which smoothing leaves too little is not called right', () => {
  const narrow: Filter = { type: 'peaking', frequencyHz: 1400, gainDb: 2.5, q: 25 };
  const design = designOfLively([...bank, narrow]);
  const codes = (after: Curve) => verifyDesign({ design, after }).warnings.map(({ code }) => code);
  const measured = lively(measuredWith([...bank, narrow]));
  expect(codes(measured)).not.toContain('hidden-by-smoothing');
  const checked = verifyDesign({ design, after: over(2, measured) });
  const warning = checked.warnings.find(({ code }) => code === 'hidden-by-smoothing');
  expect(warning!.message).toContain('too little of filter 5 shows');
  expect(promiseWords(checked)).toMatch(/^As promised, but for what smoothing hides/);
});

test('levels are there throughout where the first frequency was rounded below the first point of the dense grid', () => {
  const { frequencyHz } = off;
  const rounded = { ...off, frequencyHz: frequencyHz.map((hz) => Math.floor(hz * 1000) / 1000) };
  const through = smoothedAlike(rounded, rounded, { before: 0, after: 1 / 12 }).throughFor(
    rounded.frequencyHz,
  );
  const shown = through.shownDb(through.frequencyHz.map(() => 3));
  expect(shown).toHaveLength(rounded.frequencyHz.length);
  for (const db of shown) expect(db).toBeCloseTo(3, 6);
});
