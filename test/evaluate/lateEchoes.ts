import { randomScenario } from '../../fixtures/simulate/randomScenario.js';
import { gaussian, logUniform, seededRandom, uniform } from '../../fixtures/simulate/seededRandom.js';
import { roomPressure } from '../../fixtures/simulate/simulateRoom.js';
import { type ComplexPressure, pressureLevelDb } from '../../src/acoustics/complexPressure.js';
import { logGrid } from '../../src/curve/logGrid.js';
import { resampleToGrid } from '../../src/curve/resampleToGrid.js';
import { workingRange } from '../../src/curve/workingRange.js';
import { inverseRealFft } from '../../src/impulse/samples/fft.js';
import type { Measurement } from '../../src/measurement/measurement.js';
import { readMeasurement } from '../../src/measurement/readMeasurement.js';
import { writeWav } from '../../src/measurement/wavWriter.js';
import { prepareMeasurements } from '../../src/pipeline/prepareMeasurements.js';
import { measurementOf } from '../pipeline/samples.js';
import type { EvaluationCase } from './evaluationCase.js';
import { trueCancellations } from './trueCancellations.js';

/**
 * A speaker in the open with a few echoes that come late, as from a far wall, the floor or the ceiling: 3 to 15 ms,
 * 5 to 40 % of the direct sound, each duller than that. Their combs are dense above some hundred hertz.
 */
export interface LateEchoesCase extends EvaluationCase {
  readonly measurement: Measurement;
}

const SAMPLE_RATE_HZ = 48000;
const LENGTH = 32768;
const ARRIVAL = 256;

/** Measured as a curve of levels alone, or as an impulse response, in which the echoes can be seen. */
export function lateEchoes(seed: number, measured: 'level' | 'impulse'): LateEchoesCase {
  const random = seededRandom(seed * 6007 + 29);
  const scenario = randomScenario(random, { placement: 'anechoic', perOctave: 96, withPhase: false });
  const echoes = Array.from({ length: 1 + Math.floor(random() * 4) }, (_, k) => ({
    name: `echo ${k + 1}`,
    delayS: logUniform(random, 0.003, 0.015),
    strength: logUniform(random, 0.05, 0.4),
    dullFromHz: logUniform(random, 1500, 20000),
  }));
  const pathsOn = (frequencyHz: Float64Array) =>
    echoes.map(({ name, delayS, strength, dullFromHz }) => {
      const re = new Float64Array(frequencyHz.length);
      const im = new Float64Array(frequencyHz.length);
      frequencyHz.forEach((f, i) => {
        const size = strength / Math.hypot(1, f / dullFromHz);
        const phase = -2 * Math.PI * f * delayS - Math.atan(f / dullFromHz);
        re[i] = size * Math.cos(phase);
        im[i] = size * Math.sin(phase);
      });
      return { name, re, im };
    });
  const heardOn = (frequencyHz: Float64Array) => {
    const { direct } = roomPressure(scenario, frequencyHz);
    const sum = pathsOn(frequencyHz).reduce(
      (all, { re, im }) => ({ re: all.re.map((x, i) => x + re[i]!), im: all.im.map((x, i) => x + im[i]!) }),
      {
        re: new Float64Array(frequencyHz.length).fill(1),
        im: new Float64Array(frequencyHz.length),
      } as ComplexPressure,
    );
    const total = {
      re: direct.re.map((x, i) => x * sum.re[i]! - direct.im[i]! * sum.im[i]!),
      im: direct.re.map((x, i) => x * sum.im[i]! + direct.im[i]! * sum.re[i]!),
    };
    return { direct, total };
  };
  const noiseRandom = seededRandom(scenario.noise.seed);
  const measurement =
    measured === 'level'
      ? levelsOf(heardOn, noiseRandom, scenario.noise.jitterDb)
      : impulseOf(heardOn, noiseRandom);
  const { curve, direct, excessGroupDelayS, laterSound } = prepareMeasurements({
    title: 'late echoes',
    measurements: [measurement],
  });
  const { frequencyHz } = curve;
  const { interferenceDb, cancellations } = trueCancellations(frequencyHz, pathsOn(frequencyHz));
  return {
    id: `late echoes ${seed}`,
    measurement,
    input: {
      curve,
      range: workingRange(curve).range,
      ...(excessGroupDelayS && { excessGroupDelayS }),
      ...(measurement.reflections && { reflections: measurement.reflections }),
      ...(direct && { direct }),
      ...(laterSound && { laterSound }),
    },
    cancellations,
    resonances: scenario.speaker.resonances,
    interferenceDb,
    ownDb: pressureLevelDb(heardOn(frequencyHz).direct),
    distancesM: new Map(),
  };
}

type Heard = (frequencyHz: Float64Array) => { readonly total: ComplexPressure };

function levelsOf(heardOn: Heard, random: () => number, jitterDb: number): Measurement {
  const frequencyHz = logGrid(20, 20000, 96);
  const levelDb = pressureLevelDb(heardOn(frequencyHz).total).map((db) => db + jitterDb * gaussian(random));
  return measurementOf(resampleToGrid({ frequencyHz, levelDb }, logGrid(20, 20000)));
}

function impulseOf(heardOn: Heard, random: () => number): Measurement {
  const half = LENGTH / 2;
  const frequencyHz = Float64Array.from({ length: half }, (_, k) => ((k + 1) * SAMPLE_RATE_HZ) / LENGTH);
  const { total } = heardOn(frequencyHz);
  const bins = new Float64Array(LENGTH + 2);
  frequencyHz.forEach((f, i) => {
    const phase = (-2 * Math.PI * f * ARRIVAL) / SAMPLE_RATE_HZ;
    // A converter's filter: open to 0.42 of the sample rate, closed at half of it.
    const x = Math.min(Math.max((f / SAMPLE_RATE_HZ - 0.42) / 0.08, 0), 1);
    const open = i === half - 1 ? 0 : 0.5 * (1 + Math.cos(Math.PI * x));
    bins[2 * i + 2] = open * (total.re[i]! * Math.cos(phase) - total.im[i]! * Math.sin(phase));
    bins[2 * i + 3] = open * (total.re[i]! * Math.sin(phase) + total.im[i]! * Math.cos(phase));
  });
  const samples = inverseRealFft({ size: LENGTH, bins });
  const greatest = samples.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
  // Noise 60 to 80 dB under the greatest sample.
  const noise = 10 ** (-uniform(random, 60, 80) / 20);
  const heard = samples.map((x) => 0.5 * (x / greatest + noise * gaussian(random)));
  const { bytes } = writeWav({ channels: [heard], sampleRateHz: SAMPLE_RATE_HZ, format: 'float32' });
  return readMeasurement(bytes, 'late-echoes.wav');
}
