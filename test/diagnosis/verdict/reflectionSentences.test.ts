import { expect, test } from 'vitest';
import { logGrid } from '../../../src/curve/logGrid.js';
import type { Feature } from '../../../src/diagnosis/features/detectFeatures.js';
import { describeScene } from '../../../src/diagnosis/scene/scene.js';
import { reflectionSentences } from '../../../src/diagnosis/verdict/reflectionSentences.js';

const frequencyHz = logGrid(20, 20000);
const length = (m: number) => ({ m, toleranceM: 0.01 });
/** One reflection 0.5 m longer, half as strong (simulated). */
const levelDb = frequencyHz.map((hz) => {
  const phase = (2 * Math.PI * hz * 0.5) / 343.2;
  return 10 * Math.log10(1 + 0.25 + Math.cos(phase));
});
const scene = describeScene({
  curve: { frequencyHz, levelDb },
  range: { fromHz: 50, toHz: 20000 },
  setup: {
    temperatureC: 20,
    microphoneDistance: length(1),
    surfaces: [{ name: 'wall behind', speakerDistance: length(0.25), microphoneDistance: length(1.25) }],
    lengthUnit: 'cm',
  },
});
const dip: Feature = {
  kind: 'dip',
  index: frequencyHz.findIndex((hz) => hz >= 343),
  frequencyHz: 343,
  levelDb: -6,
  widthOctaves: 0.4,
  prominenceDb: 5,
  fromHz: 290,
  toHz: 400,
};
const said = (explainedDb: number) => {
  const share = {
    explainedDb,
    unexplainedDb: 0,
    underDirectDb: 0,
    leftAroundDb: 0,
    companyDb: 0,
    roughDb: 0,
    losses: [2.5],
    rising: 0,
  };
  return reflectionSentences(dip, share, { path: 0, lossDb: 2.5, surface: 'wall behind' }, scene);
};

test('the path that makes a dip is named with what would be gone without it, and the height that counts', () => {
  const [path, all] = said(3);
  expect(path).toMatch(/^It fits "wall behind" at .*without it 2\.5 dB of the depth would be gone\.$/);
  expect(all).toMatch(
    /make 3\.0 dB of the \d\.\d dB by which it lies below the mean of the 1\.5 octaves around it\.$/,
  );
});

test('no part of a dip is said to be more than the whole', () => {
  expect(said(5)[1]).toMatch(/ make all of the 3\.\d dB by which it lies below/);
});

test('no path is said to make a dip that all of them together do not make', () => {
  expect(said(0.04)).toHaveLength(1);
  expect(said(0.04)[0]).toContain('make 0.0 dB of');
});

test('no single reflection is said to be stronger than the direct sound', () => {
  const { parameters } = scene.reflected!.explanation.fit;
  const stronger = parameters.map((v, i) => (i % 5 === 0 ? v : Math.log(1.4)));
  const share = {
    explainedDb: 5,
    unexplainedDb: 0,
    underDirectDb: 0,
    leftAroundDb: 0,
    companyDb: 0,
    roughDb: 0,
  };
  const reflected = {
    ...scene.reflected!,
    explanation: {
      ...scene.reflected!.explanation,
      fit: { ...scene.reflected!.explanation.fit, parameters: stronger },
    },
  };
  const told = reflectionSentences(
    dip,
    { ...share, losses: [2.5], rising: 0 },
    { path: 0, lossDb: 2.5, surface: 'wall behind' },
    { ...scene, reflected },
  );
  expect(told[0]).toContain('relative reflection 1.00 (the curve asks for more than one reflection can have');
  expect(told.join(' ')).not.toMatch(/1\.[1-9]\d? at|1\.4/);
});
