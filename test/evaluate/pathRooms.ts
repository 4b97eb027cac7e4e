import type { MeasuredLength, Setup, Surface } from '../../src/acoustics/setup.js';
import { logGrid } from '../../src/curve/logGrid.js';
import { workingRange } from '../../src/curve/workingRange.js';
import { seededRandom } from '../../src/fit/seededRandom.js';
import type { EvaluationCase, TrueResonance } from './evaluationCase.js';
import { trueCancellations } from './trueCancellations.js';

/**
 * Simulated rooms made in another way than `fixtures/simulate`: no sphere, no series, no image of a room. Each surface
 * is one path with a strength that wanders over log frequency at random (mostly downward), an extra lag drawn at
 * random, and a speaker made of random analogue resonances that multiply.
 */
export interface PathRoomOptions {
  /** Relative error (standard deviation) of the distances that the user is said to have measured. */
  readonly geometryError: number;
  /** All of them wrong by this factor up or down (0.2: 20 %), the sign drawn for each surface. */
  readonly geometryBias: number;
  readonly surfaces: 'random' | 'none';
}

interface Kind {
  readonly name: string;
  readonly hs: [number, number];
  /** Microphone's distance from the plane. */
  readonly hm: (hs: number, r: number, random: () => number) => number;
  readonly strength: [number, number];
  /** Fall of the strength in dB per octave above 200 Hz. */
  readonly fallDb: [number, number];
  /** Extra path in metres at most. */
  readonly lagM: number;
}

const kinds: readonly Kind[] = [
  {
    name: 'wall behind',
    hs: [0.12, 0.95],
    hm: (hs, r) => hs + r,
    strength: [0.45, 1],
    fallDb: [1.5, 5],
    lagM: 0.07,
  },
  {
    name: 'side wall',
    hs: [0.35, 1.6],
    hm: (hs, _r, u) => hs + (u() - 0.3) * 0.6,
    strength: [0.4, 0.95],
    fallDb: [0.2, 2.5],
    lagM: 0.04,
  },
  {
    name: 'desk',
    hs: [0.12, 0.42],
    hm: (_hs, _r, u) => 0.2 + 0.35 * u(),
    strength: [0.35, 0.9],
    fallDb: [-0.3, 1.5],
    lagM: 0.02,
  },
  {
    name: 'floor',
    hs: [0.6, 1.2],
    hm: (hs, _r, u) => hs + (u() - 0.5) * 0.3,
    strength: [0.3, 0.9],
    fallDb: [0.2, 2.5],
    lagM: 0.03,
  },
  {
    name: 'ceiling',
    hs: [1.1, 1.9],
    hm: (hs, _r, u) => hs + (u() - 0.5) * 0.3,
    strength: [0.4, 0.9],
    fallDb: [0.2, 2.5],
    lagM: 0.03,
  },
];

export function pathRoom(seed: number, options: PathRoomOptions): EvaluationCase {
  const random = seededRandom(seed * 7919 + 13);
  const between = ([a, b]: [number, number]) => a + (b - a) * random();
  const gauss = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const c = 343.2;
  const frequencyHz = logGrid(20, 20000);
  const n = frequencyHz.length;
  const octave = frequencyHz.map((f) => Math.log2(f / 1000));

  const r = between([0.6, 2.2]);
  const count = options.surfaces === 'none' ? 0 : 1 + Math.floor(random() * 4);
  const chosen = [...kinds].sort(() => random() - 0.5).slice(0, count);
  const surfaces: Surface[] = [];
  const distancesM = new Map<string, number>();
  const paths = chosen.map((kind) => {
    const hs = between(kind.hs);
    let hm = kind.hm(hs, r, random);
    // the direct distance must be able to span the difference of heights
    if (Math.abs(hm - hs) > r) hm = hs + Math.sign(hm - hs) * r * 0.98;
    const err = () =>
      (1 + options.geometryError * gauss()) *
      (random() < 0.5 ? 1 + options.geometryBias : 1 - options.geometryBias);
    const scale = err();
    const said = (m: number): MeasuredLength => ({ m: m * scale, toleranceM: 0 });
    distancesM.set(kind.name, hs);
    surfaces.push({
      name: kind.name,
      speakerDistance: said(hs),
      microphoneDistance: kind.name === 'wall behind' ? { m: hs * scale + r, toleranceM: 0 } : said(hm),
    });
    const pathM = Math.sqrt(r * r + 4 * hs * hm);
    const extraM = pathM - r + kind.lagM * random();
    const strengthDb = 20 * Math.log10(between(kind.strength));
    const fall = between(kind.fallDb);
    // wandering strength: three random cosines over log frequency
    const waves = [0, 1, 2].map(() => ({ a: 1.2 * gauss(), k: 0.6 + 1.4 * random(), p: 6.28 * random() }));
    const re = new Float64Array(n);
    const im = new Float64Array(n);
    for (let i = 0; i < n; i++) {
      const above = Math.max(0, octave[i]! - Math.log2(0.2));
      let db = strengthDb + 20 * Math.log10(r / pathM) - fall * above;
      for (const w of waves) db += w.a * Math.cos(w.k * octave[i]! * 2 + w.p);
      const a = 10 ** (db / 20);
      const phase = (-2 * Math.PI * frequencyHz[i]! * extraM) / c;
      re[i] = a * Math.cos(phase);
      im[i] = a * Math.sin(phase);
    }
    return { name: kind.name, re, im };
  });
  const { interferenceDb, cancellations } = trueCancellations(frequencyHz, paths);

  const resonances: TrueResonance[] = Array.from({ length: 2 + Math.floor(random() * 6) }, () => ({
    frequencyHz: 70 * (9000 / 70) ** random(),
    gainDb: (random() < 0.55 ? 1 : -1) * (1 + 4.5 * random()),
    q: 0.8 * 10 ** random(),
  }));
  const corner = 45 * 3 ** random();
  const order = random() < 0.5 ? 2 : 4;
  const tilt = -0.8 + 1.2 * random();
  const stepDb = 4 * random() - 1;
  const stepHz = 500 * 2 ** random();
  const noiseDb = 0.1 + 0.4 * random();
  const lateLevel = random() < 0.5 ? 0 : 0.02 + 0.08 * random();
  const late = Array.from({ length: 60 }, () => ({
    a: lateLevel * gauss() * 0.4,
    s: 0.006 + 0.06 * random(),
  }));
  const levelDb = new Float64Array(n);
  const lateDb = new Float64Array(n);
  const ownDb = new Float64Array(n);
  const offset = 70 + 20 * random();
  for (let i = 0; i < n; i++) {
    const f = frequencyHz[i]!;
    let db = offset + tilt * octave[i]! + stepDb / (1 + (stepHz / f) ** 2);
    for (const { frequencyHz: f0, gainDb, q } of resonances) {
      const w = f / f0;
      const A = 10 ** (gainDb / 40);
      const u = (1 - w * w) ** 2;
      db += 10 * Math.log10((u + ((A * w) / q) ** 2) / (u + (w / (A * q)) ** 2));
    }
    db -= 10 * Math.log10(1 + (corner / f) ** (2 * order));
    db -= 10 * Math.log10(1 + (f / 22000) ** 8);
    ownDb[i] = db;
    let re = 1;
    let im = 0;
    for (const { a, s } of late) {
      re += a * Math.cos(2 * Math.PI * f * s);
      im -= a * Math.sin(2 * Math.PI * f * s);
    }
    lateDb[i] = 10 * Math.log10(re * re + im * im);
    levelDb[i] = db + interferenceDb[i]! + lateDb[i]! + noiseDb * gauss();
  }
  const setup: Setup = {
    temperatureC: 20,
    microphoneDistance: { m: r, toleranceM: 0 },
    ...(random() < 0.7 && { baffleWidthM: 0.13 + 0.1 * random() }),
    surfaces,
    lengthUnit: 'cm',
  };
  return {
    id: `path room ${seed}`,
    input: { curve: { frequencyHz, levelDb }, range: workingRange({ frequencyHz, levelDb }).range, setup },
    cancellations: cancellations,
    resonances,
    interferenceDb: interferenceDb.map((db, i) => db + lateDb[i]!),
    ownDb,
    distancesM,
  };
}
