import type { Curve } from '../../src/curve/curve.js';
import { explainCurve } from '../../src/whatIf/explainCurve.js';
import { expectedScene, mirroredDb } from '../../src/whatIf/mirrorScene.js';
import { whatIfCurve } from '../../src/whatIf/whatIfCurve.js';
import { missDb, plainCase, type WhatIfCase, whatIfCase } from './whatIfCases.js';

const count = Number(process.argv[2] ?? 60);
const firstSeed = Number(process.argv[3] ?? 1);

const families: readonly (readonly [string, (seed: number) => WhatIfCase])[] = [
  ['few surfaces', (seed) => whatIfCase(300000 + seed, { surroundings: 'few' })],
  ['whole room', (seed) => whatIfCase(400000 + seed, { surroundings: 'room' })],
  ['plain images', (seed) => plainCase(500000 + seed)],
];

let explaining = 0;
let asking = 0;
let asked = 0;

const methods: readonly (readonly [string, (sample: WhatIfCase) => Curve])[] = [
  ['stays as it is', ({ curve }) => curve],
  [
    'geometry alone',
    ({ curve, setup, moved }) => {
      const expected = expectedScene(setup, curve.frequencyHz);
      const [out, into] = [mirroredDb(expected), mirroredDb(expected, moved)];
      return { ...curve, levelDb: curve.levelDb.map((db, i) => db - out[i]! + into[i]!) };
    },
  ],
  [
    'what-if',
    ({ curve, range, setup, moved }) => {
      const start = performance.now();
      const explained = explainCurve(curve, range, setup);
      const between = performance.now();
      const result = explained ? whatIfCurve(explained, moved) : curve;
      explaining += between - start;
      asking += performance.now() - between;
      asked++;
      return result;
    },
  ],
];

const share = (sorted: readonly number[], at: number) =>
  sorted[Math.min(sorted.length - 1, Math.floor(at * sorted.length))]!;

console.log('Curve at the new place, RMS between 100 Hz and 1 kHz in dB (1/12 octave, level aligned)');
for (const [family, make] of families) {
  const samples = Array.from({ length: count }, (_, i) => make(firstSeed + i));
  for (const [method, predict] of methods) {
    const misses = samples.map((sample) => missDb(predict(sample), sample.there)).sort((a, b) => a - b);
    const within = misses.filter((miss) => miss <= 1.5).length;
    console.log(
      `${family.padEnd(14)} ${method.padEnd(16)} median ${share(misses, 0.5).toFixed(2)}  90 % ${share(misses, 0.9).toFixed(2)}  within 1.5 dB ${((100 * within) / misses.length).toFixed(0).padStart(3)} %`,
    );
  }
}
console.log(
  `${(explaining / asked).toFixed(0)} ms to explain a curve, ${(asking / asked).toFixed(2)} ms for each new place`,
);
