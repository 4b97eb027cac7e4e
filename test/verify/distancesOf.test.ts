import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import type { Curve } from '../../src/curve/curve.js';
import { design } from '../../src/design.js';
import { promiseFigures } from '../../src/export/words/promiseWords.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import { readMeasurement } from '../../src/measurement/readMeasurement.js';
import { DEFAULT_LIMITS } from '../../src/pipeline/designRequest.js';
import { readSetup } from '../../src/schema/setup.js';
import { verifyDesign } from '../../src/verify/verifyDesign.js';

const demo = (name: string) => readFileSync(new URL(`../../fixtures/demo/${name}`, import.meta.url));
const measurements = [1, 2].map((i) => readMeasurement(demo(`position-${i}.txt`), `position-${i}.txt`));
const made = design({
  title: 'demo (simulated)',
  measurements,
  setup: readSetup(demo('setup.json').toString('utf8'), 'setup.json'),
  target: {},
  ...DEFAULT_LIMITS,
  bands: 4,
});
const before: Curve = {
  frequencyHz: Float64Array.from(made.curves.frequencyHz),
  levelDb: Float64Array.from(made.curves.measuredDb),
};
const filtered = ({ frequencyHz, levelDb }: Curve): Curve => ({
  frequencyHz,
  levelDb: bankResponseDb(made.filters, made.sampleRateHz, frequencyHz).map((db, i) => levelDb[i]! + db),
});
const unevennessOf = (request: Omit<Parameters<typeof verifyDesign>[0], 'design'>) => {
  const verification = verifyDesign({ design: made, averaged: { after: 2, before: 2 }, ...request });
  const [, words] = promiseFigures(verification).find(([name]) => name === 'Unevenness')!;
  return { ...verification.targetErrorRmsDb, words };
};

test('the unevenness promised is the figure that the design states, spans left alone and all', () => {
  expect(made.zones.length).toBeGreaterThan(2);
  const { promised, stated, words } = unevennessOf({ after: filtered(before) });
  expect(promised).toBe(made.unevenness.afterRmsDb);
  expect(stated).toBeUndefined();
  expect(words).not.toContain('in the design');
});

test('where it is of another curve, or of less of it, the design keeps its own figure beside it', () => {
  const wavy = { ...before, levelDb: before.levelDb.map((db, i) => db + 1.5 * Math.sin(i / 9)) };
  const other = unevennessOf({ before: wavy, after: filtered(wavy) });
  expect(other.stated).toBe(made.unevenness.afterRmsDb);
  expect(other.promised).toBeGreaterThan(made.unevenness.afterRmsDb + 0.3);
  expect(other.words).toContain(
    `(${made.unevenness.afterRmsDb.toFixed(1)} dB in the design: of its own curve`,
  );
  const from = before.frequencyHz.findIndex((hz) => hz > 1500);
  const half = unevennessOf({
    after: filtered({ frequencyHz: before.frequencyHz.slice(from), levelDb: before.levelDb.slice(from) }),
  });
  expect(half.stated).toBe(made.unevenness.afterRmsDb);
});
