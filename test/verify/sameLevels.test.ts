import { expect, test } from 'vitest';
import { gaussian, seededRandom } from '../../fixtures/simulate/seededRandom.js';
import type { Curve } from '../../src/curve/curve.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import { verifyDesign } from '../../src/verify/verifyDesign.js';
import { bank, before, curveOf, designOf, measuredWith, roomDb, sampleRateHz } from './smallRoom.js';

const design = designOf();
const after = measuredWith(bank);
const louder = (curve: Curve, byDb: number): Curve => ({
  ...curve,
  levelDb: curve.levelDb.map((db) => db + byDb),
});
const saidOf = (request: Omit<Parameters<typeof verifyDesign>[0], 'design'>) =>
  verifyDesign({ design, ...request })
    .warnings.filter(({ code }) => code === 'same-measurement')
    .map(({ message }) => message);

test('the very measurement that the design was made from, given as the other channel, is told of', () => {
  const [message, ...more] = saidOf({ after, other: { before: louder(before, -3) } });
  expect(more).toEqual([]);
  expect(message).toMatch(
    /^What was given as the other channel .* the measurement that the design was made from: whether/,
  );
  expect(saidOf({ after, other: { before, bank: { filters: [], sampleRateHz } } })).toHaveLength(1);
});

test('so is the measurement without filters, and the one that is checked', () => {
  const room = measuredWith([], { seed: 8 });
  expect(saidOf({ after, before: room, other: { before: room } })[0]).toContain(
    'the measurement with the filters off',
  );
  expect(saidOf({ after, other: { before: after } })[0]).toContain('the measurement with the filters on');
});

test('a check of the measurement from before the filters says that nothing new was measured', () => {
  expect(saidOf({ after: louder(before, 2) })[0]).toMatch(
    /^The measurement with the filters on .* nothing new was measured/,
  );
  expect(saidOf({ after, before: after })[0]).toContain('as the one with them off');
});

test('a measurement on the points of an FFT is known again on those of the design', () => {
  const random = seededRandom(3);
  const frequencyHz = Float64Array.from({ length: 8000 }, (_, k) => 2.5 * (k + 8));
  const raw = { frequencyHz, levelDb: frequencyHz.map((hz) => roomDb(hz, 0.3) + 0.3 * gaussian(random)) };
  expect(saidOf({ before: raw, after: raw })).toHaveLength(1);
});

test('it is known again beside nulls too, where a digit of a frequency is hundredths of a dB', () => {
  const comb = (hz: number) => 20 * Math.log10(Math.hypot(1.003 + Math.cos(hz / 90), Math.sin(hz / 90)));
  const fine = curveOf((hz) => roomDb(hz, 0.3) + comb(hz));
  const made = {
    ...design,
    curves: {
      ...design.curves,
      frequencyHz: Array.from(fine.frequencyHz, (hz) => Number(hz.toPrecision(5))),
      measuredDb: Array.from(fine.levelDb, (db) => Number(db.toFixed(3))),
    },
  };
  const { warnings } = verifyDesign({ design: made, after: fine });
  expect(warnings.map(({ code }) => code)).toContain('same-measurement');
});

test('measurements made twice are not taken for one, be it with hardly any noise', () => {
  const random = seededRandom(5);
  const again = { ...before, levelDb: before.levelDb.map((db) => db + 0.02 * gaussian(random)) };
  expect(saidOf({ after: again, other: { before: again } })).toHaveLength(1);
  expect(saidOf({ after, other: { before: again } })).toEqual([]);
  const eqDb = bankResponseDb(bank, sampleRateHz, before.frequencyHz);
  const right = before.levelDb.map((db, i) => db + eqDb[i]!);
  expect(saidOf({ after: { ...before, levelDb: right } })).toEqual([]);
});
