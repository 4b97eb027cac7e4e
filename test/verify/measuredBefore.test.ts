import { expect, test } from 'vitest';
import type { Curve } from '../../src/curve/curve.js';
import { shapeDigest } from '../../src/curve/shapeDigest.js';
import type { Design } from '../../src/schema/design.js';
import { verifyDesign } from '../../src/verify/verifyDesign.js';
import { bank, designOf, measuredWith } from './smallRoom.js';

const [left, right, after] = [0.25, 0.35, 0.31].map((distanceM, i) =>
  measuredWith(i < 2 ? [] : bank, { distanceM, seed: 40 + i }),
) as [Curve, Curve, Curve];
const figures = { beforeRmsDb: 2, afterRmsDb: 1 };
const positions = {
  aim: 'mean' as const,
  worstBeforeRmsDb: 2,
  worstAfterRmsDb: 1,
  each: [
    { name: 'left', ...figures, digest: shapeDigest(left) },
    { name: 'right', ...figures, digest: shapeDigest(right) },
  ],
};
const design: Design = { ...designOf(), positions };
const saidOf = (request: Parameters<typeof verifyDesign>[0]) =>
  verifyDesign(request)
    .warnings.filter(({ code }) => code === 'same-measurement')
    .map(({ message }) => message);

test('a position that the design was averaged from, given as a check, is told of by its name', () => {
  const louder = { ...right, levelDb: right.levelDb.map((db) => db + 3.3) };
  const [message, ...more] = saidOf({ design, after: louder });
  expect(more).toEqual([]);
  expect(message).toMatch(
    /^The measurement with the filters on holds .* as right, one of the 2 measurements/,
  );
  expect(saidOf({ design, after: louder, fileNames: { after: 'new.txt' } })[0]).toMatch(
    /^new\.txt, given as measured with the filters on, holds .* as right,/,
  );
});

test('so is each such file among several, as it was before a calibration was taken off', () => {
  const calibrated = { ...after, levelDb: after.levelDb.map((db, i) => db + 0.01 * i) };
  const request = { design, after: calibrated, averaged: { after: 2 } };
  const measured = [
    { fileName: 'a.txt', asMeasured: after },
    { fileName: 'b.txt', asMeasured: left },
  ];
  expect(saidOf({ ...request, measured })).toEqual([expect.stringMatching(/^b\.txt, .* as left, one of/)]);
  expect(saidOf(request)).toEqual([]);
});

test('a new measurement, and a design that holds no digests, need no word', () => {
  expect(saidOf({ design, after })).toEqual([]);
  const older = { ...positions, each: positions.each.map(({ digest: _, ...rest }) => rest) };
  expect(saidOf({ design: { ...design, positions: older }, after: right })).toEqual([]);
  expect(saidOf({ design: designOf(), after: right })).toEqual([]);
});
