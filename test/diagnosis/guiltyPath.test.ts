import { expect, test } from 'vitest';
import { logGrid } from '../../src/curve/logGrid.js';
import type { Feature } from '../../src/diagnosis/features/detectFeatures.js';
import { strengthPrecision } from '../../src/diagnosis/paths/fitPaths.js';
import { pathPressure } from '../../src/diagnosis/scene/pathPressure.js';
import { describeScene, type Scene } from '../../src/diagnosis/scene/scene.js';
import { guiltyPath } from '../../src/diagnosis/verdict/causeOf.js';

const C = 343.2;
const frequencyHz = logGrid(40, 4000);
const prior = (differenceM: number, lnDifferenceScale = 0.03) => ({
  lnDifference: Math.log(differenceM),
  lnDifferenceScale,
  lnStrength: [0.4, 0.4, 0.4, 0.4].map(Math.log),
  strengthPrecision: strengthPrecision(4, 0.4, 0.3),
});
const path = (differenceM: number, strength: number) => [
  Math.log(differenceM),
  ...[1, 1, 1, 1].map(() => Math.log(strength)),
];
interface Told {
  readonly name?: string;
  readonly fittedM: number;
  readonly strength: number;
  readonly saidM?: number;
}
/** A scene as if these paths had been fitted to its curve. */
function sceneOf(paths: readonly Told[]): Scene & Required<Pick<Scene, 'reflected'>> {
  const plain = describeScene({
    curve: {
      frequencyHz,
      levelDb: frequencyHz.map((f) => 10 * Math.log10(1.25 + Math.cos((2 * Math.PI * f) / C))),
    },
    range: { fromHz: 40, toHz: 4000 },
  });
  const { reflected } = plain;
  if (!reflected) throw new Error('nothing was fitted');
  const explanation = {
    ...reflected.explanation,
    fit: {
      ...reflected.explanation.fit,
      parameters: Float64Array.from(paths.flatMap((p) => path(p.fittedM, p.strength))),
    },
    expected: paths.map(({ name, saidM }) =>
      saidM === undefined ? undefined : { ...(name !== undefined && { name }), prior: prior(saidM) },
    ),
  };
  return { ...plain, speedOfSoundMs: C, reflected: { ...reflected, explanation } };
}
const dip: Feature = {
  kind: 'dip',
  index: frequencyHz.findIndex((f) => f >= 300),
  frequencyHz: 300,
  levelDb: -6,
  widthOctaves: 0.4,
  prominenceDb: 5,
  fromHz: 260,
  toHz: 340,
};
const share = (losses: readonly number[]) => ({
  explainedDb: 5,
  unexplainedDb: 1,
  underDirectDb: 5,
  leftAroundDb: 0.5,
  companyDb: 2,
  roughDb: 2,
  losses,
  rising: 0,
});
/** Half a wave at 300 Hz, and a whole one. */
const CANCELS_M = C / 600;
const ADDS_M = C / 300;

test('of two surfaces that the fit blames alike the one that the tape blames too is named', () => {
  const scene = sceneOf([
    { name: 'ceiling', fittedM: CANCELS_M, strength: 0.34, saidM: 0.8 * ADDS_M },
    { name: 'floor', fittedM: CANCELS_M, strength: 0.32, saidM: CANCELS_M },
  ]);
  expect(guiltyPath(dip, share([3, 3]), scene)?.surface).toBe('floor');
});

test('where the fit blames one surface clearly, the tape does not outweigh it', () => {
  const scene = sceneOf([
    { name: 'ceiling', fittedM: CANCELS_M, strength: 0.7, saidM: 0.8 * CANCELS_M },
    { name: 'floor', fittedM: 0.75 * CANCELS_M, strength: 0.1, saidM: CANCELS_M },
  ]);
  expect(guiltyPath(dip, share([5, 0.5]), scene)?.surface).toBe('ceiling');
});

test('a path that only the curve shows is named where it does far more', () => {
  const scene = sceneOf([
    { name: 'ceiling', fittedM: ADDS_M, strength: 0.4, saidM: ADDS_M },
    { fittedM: CANCELS_M, strength: 0.5 },
  ]);
  expect(guiltyPath(dip, share([0, 5]), scene)).toEqual({ path: 1, lossDb: 5 });
});

test('what a path adds is its strength times the cosine of its turn, and what was foreseen blurred by how well its length is known', () => {
  const { explanation } = sceneOf([{ fittedM: CANCELS_M, strength: 0.5 }]).reflected;
  expect(pathPressure(explanation, 0, 300, C)).toBeCloseTo(-0.5, 9);
  const known = sceneOf([{ fittedM: CANCELS_M, strength: 0.5, saidM: CANCELS_M }]).reflected.explanation;
  // The mean of the cosine of an angle that is normally scattered: cos of its middle times exp(−σ²/2).
  const blurred = 0.4 * Math.exp(-((0.03 * Math.PI) ** 2) / 2);
  expect(pathPressure(known, 0, 300, C)).toBeCloseTo(-0.5 - blurred, 9);
  // Half of it counts where the fit is √3 deviations away.
  const away = sceneOf([{ fittedM: CANCELS_M, strength: 0.5, saidM: CANCELS_M * Math.exp(0.03 * 3 ** 0.5) }]);
  const turn = Math.PI * Math.exp(0.03 * 3 ** 0.5);
  const foreseen = 0.4 * Math.cos(turn) * Math.exp(-((0.03 * turn) ** 2) / 2);
  expect(pathPressure(away.reflected.explanation, 0, 300, C)).toBeCloseTo(-0.5 + foreseen / 2, 9);
});
