import { randomScenario } from '../../fixtures/simulate/randomScenario.js';
import { gaussian, logUniform, seededRandom, uniform } from '../../fixtures/simulate/seededRandom.js';
import { roomPressure } from '../../fixtures/simulate/simulateRoom.js';
import { pressureLevelDb } from '../../src/acoustics/complexPressure.js';
import type { Setup } from '../../src/acoustics/setup.js';
import { logGrid } from '../../src/curve/logGrid.js';
import { workingRange } from '../../src/curve/workingRange.js';
import type { EvaluationCase } from './evaluationCase.js';
import { trueCancellations } from './trueCancellations.js';

const SPEED_MS = 343.2;

/**
 * Levels of a speaker in the open, or beside one or two walls close by which send back dull sound (two poles), as a small
 * box sends it to the rear; each as often. Such a wall makes one wide dip and leaves the rest of the curve calm.
 */
export function dullWalls(seed: number, options: { readonly walls?: number } = {}): EvaluationCase {
  const random = seededRandom(seed * 5011 + 7);
  const scenario = randomScenario(random, { placement: 'anechoic', perOctave: 96, withPhase: false });
  const awayM = uniform(random, 0.7, 2);
  const drawn = Math.floor(random() * 3);
  const frequencyHz = logGrid(20, 20000);
  const walls = ['wall behind', 'side wall'].slice(0, options.walls ?? drawn).map((name) => {
    const hs = logUniform(random, 0.08, 0.4);
    const strength = uniform(random, 0.45, 0.9);
    const dullFromHz = logUniform(random, 400, 1200);
    const hm = name === 'wall behind' ? hs + awayM : hs;
    const lengthM = Math.sqrt(awayM ** 2 + 4 * hs * hm);
    const re = new Float64Array(frequencyHz.length);
    const im = new Float64Array(frequencyHz.length);
    frequencyHz.forEach((f, i) => {
      const size = (strength * awayM) / lengthM / (1 + (f / dullFromHz) ** 2);
      const phase = (-2 * Math.PI * f * (lengthM - awayM)) / SPEED_MS - 2 * Math.atan(f / dullFromHz);
      re[i] = size * Math.cos(phase);
      im[i] = size * Math.sin(phase);
    });
    return { name, hs, re, im };
  });
  const ownDb = pressureLevelDb(roomPressure(scenario, frequencyHz).direct);
  const { interferenceDb, cancellations } = trueCancellations(frequencyHz, walls);
  const levelDb = ownDb.map(
    (own, i) => own + interferenceDb[i]! + scenario.noise.jitterDb * gaussian(random),
  );
  const length = (m: number) => ({ m, toleranceM: 0 });
  const setup: Setup = {
    temperatureC: 20,
    microphoneDistance: length(awayM),
    baffleWidthM: scenario.speaker.baffleWidthM,
    lengthUnit: 'cm',
    surfaces: walls.map(({ name, hs }) => {
      const saidM = hs * (1 + 0.03 * gaussian(random));
      return {
        name,
        speakerDistance: length(saidM),
        microphoneDistance: length(name === 'wall behind' ? saidM + awayM : saidM),
      };
    }),
  };
  return {
    id: `dull walls ${seed}`,
    input: { curve: { frequencyHz, levelDb }, range: workingRange({ frequencyHz, levelDb }).range, setup },
    cancellations,
    resonances: scenario.speaker.resonances,
    interferenceDb,
    ownDb,
    distancesM: new Map(walls.map(({ name, hs }) => [name, hs] as const)),
  };
}
