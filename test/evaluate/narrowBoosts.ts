/**
 * Bands that boost narrowly: how many a design spends on dips of late sound and how many on the speaker's own, and what is
 * left of the measured curve and of the direct sound alone. A boost is the speaker's where its direct sound alone has a dip
 * of at least half the gain, as wide as the band.
 * Run: npx tsx test/evaluate/narrowBoosts.ts [cases a family] [first seed] [bands]
 */
import { smoothOctave } from '../../src/curve/smoothOctave.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import { design } from '../../src/index.js';
import { measurementOf, requestOf } from '../pipeline/samples.js';
import type { EvaluationCase } from './evaluationCase.js';
import { type LateEchoesCase, lateEchoes } from './lateEchoes.js';
import { depthIn } from './ownShare.js';
import { pathRoom } from './pathRooms.js';
import { simulatedRoom } from './simulatedRooms.js';

const count = Number(process.argv[2] ?? 12);
const firstSeed = Number(process.argv[3] ?? 100000);
const bands = Number(process.argv[4] ?? 8);

const NARROW_Q = 4;
const FROM_HZ = 500;
const SAMPLE_RATE_HZ = 48000;

const families: readonly (readonly [string, (seed: number) => EvaluationCase & Partial<LateEchoesCase>])[] = [
  ['late echoes, level', (s) => lateEchoes(s, 'level')],
  ['late echoes, impulse', (s) => lateEchoes(s + 20000, 'impulse')],
  ['few surfaces', (s) => simulatedRoom(s, { surroundings: 'few', tapeErrorPercent: 4 })],
  ['whole room', (s) => simulatedRoom(s + 50000, { surroundings: 'room', tapeErrorPercent: 4 })],
  ['random paths', (s) => pathRoom(s, { geometryError: 0.03, geometryBias: 0, surfaces: 'random' })],
  ['anechoic', (s) => simulatedRoom(s + 120000, { placement: 'anechoic' })],
  ['speaker, no paths', (s) => pathRoom(s, { geometryError: 0, geometryBias: 0, surfaces: 'none' })],
];

const rms = (values: readonly number[]) => {
  const mean = values.reduce((sum, x) => sum + x, 0) / values.length;
  return Math.sqrt(values.reduce((sum, x) => sum + (x - mean) ** 2, 0) / values.length);
};
const mean = (values: readonly number[]) =>
  (values.reduce((sum, x) => sum + x, 0) / values.length).toFixed(3);

console.log(
  `${bands} bands; boosts of Q > ${NARROW_Q} above ${FROM_HZ} Hz, number and sum of dB; mean RMS in dB after EQ: stated, zones with it, of the direct sound\n` +
    "                       not the speaker's    the speaker's    stated  with zones  direct  findings  zones, %",
);
for (const [name, make] of families) {
  const boosts = { own: [] as number[], other: [] as number[] };
  const left = { stated: [] as number[], whole: [] as number[], direct: [] as number[] };
  const findings: number[] = [];
  const zones: number[] = [];
  for (let seed = firstSeed; seed < firstSeed + count; seed++) {
    const sample = make(seed);
    const { curve, setup } = sample.input;
    const measurement = sample.measurement ?? measurementOf(curve);
    const made = design(requestOf(measurement, { bands, ...(setup && { setup }) }));
    const ownDepth = depthIn(curve.frequencyHz, sample.ownDb);
    for (const { type, frequencyHz, gainDb, q } of made.filters) {
      if (type !== 'peaking' || gainDb <= 0 || q <= NARROW_Q || frequencyHz < FROM_HZ) continue;
      const isOwn = ownDepth({ frequencyHz, widthOctaves: Math.LOG2E / q }) >= gainDb / 2;
      boosts[isOwn ? 'own' : 'other'].push(gainDb);
    }
    left.stated.push(made.error.afterRmsDb);
    left.whole.push(made.errorWithZones.afterRmsDb);
    const { fromHz, toHz } = made.range;
    const eqDb = bankResponseDb(made.filters, SAMPLE_RATE_HZ, curve.frequencyHz);
    const direct = smoothOctave(
      { frequencyHz: curve.frequencyHz, levelDb: sample.ownDb.map((db, i) => db + eqDb[i]!) },
      1 / 12,
    );
    left.direct.push(
      rms(
        Array.from(direct.levelDb).filter(
          (_, i) => curve.frequencyHz[i]! >= fromHz && curve.frequencyHz[i]! <= toHz,
        ),
      ),
    );
    findings.push(made.findings.length);
    const octaves = made.zones.reduce((sum, zone) => sum + Math.log2(zone.toHz / zone.fromHz), 0);
    zones.push((100 * octaves) / Math.log2(toHz / fromHz));
  }
  const told = (gains: readonly number[]) =>
    `${String(gains.length).padStart(5)} ${gains
      .reduce((a, b) => a + b, 0)
      .toFixed(1)
      .padStart(7)} dB`;
  console.log(
    `${name.padEnd(22)} ${told(boosts.other)}   ${told(boosts.own)}    ${mean(left.stated)}   ${mean(left.whole)}   ${mean(left.direct)}   ${mean(findings)}   ${mean(zones)}`,
  );
}
