import { moveSpeaker } from '../../fixtures/simulate/place.js';
import { randomScenario } from '../../fixtures/simulate/randomScenario.js';
import type { Vector } from '../../fixtures/simulate/scenario.js';
import { gaussian, logUniform, seededRandom, uniform } from '../../fixtures/simulate/seededRandom.js';
import { setupOf } from '../../fixtures/simulate/setupOf.js';
import { simulateCurve } from '../../fixtures/simulate/simulate.js';
import { speakerPressure } from '../../fixtures/simulate/simulateSpeaker.js';
import { pressureLevelDb } from '../../src/acoustics/complexPressure.js';
import { planeGeometry } from '../../src/acoustics/planeGeometry.js';
import { sumReflections } from '../../src/acoustics/reflectionModel.js';
import type { Setup, Surface } from '../../src/acoustics/setup.js';
import { speedOfSound } from '../../src/acoustics/speedOfSound.js';
import { alignLevel } from '../../src/curve/alignLevel.js';
import type { Curve, FrequencyRange } from '../../src/curve/curve.js';
import { logGrid } from '../../src/curve/logGrid.js';
import { octaveWeights } from '../../src/curve/octaveWeights.js';
import { sliceCurve } from '../../src/curve/sliceCurve.js';
import { smoothOctave } from '../../src/curve/smoothOctave.js';
import { weightedRms } from '../../src/curve/weightedRms.js';
import { workingRange } from '../../src/curve/workingRange.js';
import { type MicrophonePlace, movePlacement } from '../../src/whatIf/movePlacement.js';
import { gridded } from './simulatedRooms.js';

/** A simulated speaker measured at two places, as its user would describe the move. */
export interface WhatIfCase {
  readonly curve: Curve;
  readonly range: FrequencyRange;
  readonly setup: Setup;
  readonly moved: Setup;
  /** What the simulator says of the new place. */
  readonly there: Curve;
  readonly microphone: MicrophonePlace;
  /** New distance over old, of the surface that the speaker was moved from. */
  readonly factor: number;
}

export interface WhatIfOptions {
  readonly surroundings: 'few' | 'room';
  readonly tapeErrorPercent?: number;
  /** Which surface is moved from; default: the wall behind, in one of four cases the side wall where there is one. */
  readonly surface?: 'wall behind' | 'side wall';
}

const JUDGED: FrequencyRange = { fromHz: 100, toHz: 1000 };

/** Moves by a factor of up to two either way, nowhere through walls or the microphone. */
export function whatIfCase(seed: number, options: WhatIfOptions): WhatIfCase {
  const random = seededRandom(seed);
  const { surroundings, tapeErrorPercent = 3 } = options;
  const scenario = randomScenario(random, {
    surroundings,
    tapeErrorPercent,
    withPhase: false,
    perOctave: 48,
  });
  const setup = setupOf(scenario);
  const aside = random() < 0.25;
  const named = options.surface ?? (aside ? 'side wall' : 'wall behind');
  const surface = setup.surfaces.some(({ name }) => name === named) ? named : 'wall behind';
  const plane = scenario.planes.find(({ name }) => name === surface)!;
  const trueM = Math.abs(scenario.baffle[plane.axis] - plane.atM);
  const nearestM = plane.axis === 0 ? 0.2 : 0.25;
  const factor = Math.max(logUniform(random, 0.5, 2), Math.min(1, nearestM / trueM));
  const byM = (factor - 1) * trueM;
  const by = [0, 0, 0];
  by[plane.axis] = Math.sign(scenario.baffle[plane.axis] - plane.atM) * byM;
  const microphone = random() < 0.5 ? 'along' : 'stays';
  const moves = [
    {
      surface,
      speakerDistanceM: setup.surfaces.find(({ name }) => name === surface)!.speakerDistance.m + byM,
    },
  ];
  const { speakerDistance: hs, microphoneDistance: hm } = setup.surfaces.find(
    (each) => each.name === surface,
  )!;
  const aheadM = hm.m - hs.m;
  const squaredM2 = setup.microphoneDistance.m ** 2 - aheadM ** 2 + (aheadM - byM) ** 2;
  const stays = microphone === 'stays' && squaredM2 > 0.4 ** 2;
  const place = (): { moved: Setup; microphone: MicrophonePlace } =>
    stays
      ? { moved: movePlacement(setup, moves, 'stays'), microphone }
      : { moved: movePlacement(setup, moves, 'along'), microphone: 'along' };
  const placed = place();
  const elsewhere = moveSpeaker(
    scenario,
    by as unknown as Vector,
    seed + 7,
    placed.microphone === 'along' ? 'comes along' : 'stays',
  );
  const curve = gridded(simulateCurve(scenario));
  return {
    curve,
    range: workingRange(curve).range,
    setup,
    ...placed,
    there: gridded(simulateCurve(elsewhere)),
    factor,
  };
}

/**
 * A textbook's room, made in another way than the simulator: flat images of a speaker whose strength falls and lags by
 * `reflectionModel.ts`, two planes at right angles, resonances, noise. No sphere, no material that changes phase.
 */
export function plainCase(seed: number): WhatIfCase {
  const random = seededRandom(seed);
  const scenario = randomScenario(random, { surroundings: 'few', withPhase: false });
  const frequencyHz = logGrid(20, 20000);
  const c = speedOfSound(20);
  const r = uniform(random, 0.7, 2);
  const surface = (name: string, hs: number, hm: number): Surface => ({
    name,
    speakerDistance: { m: hs, toleranceM: 0 },
    microphoneDistance: { m: hm, toleranceM: 0 },
  });
  const hs = logUniform(random, 0.2, 0.9);
  const aside = uniform(random, 0.4, 1.4);
  const setup: Setup = {
    temperatureC: 20,
    microphoneDistance: { m: r, toleranceM: 0 },
    baffleWidthM: scenario.speaker.baffleWidthM,
    surfaces: [surface('wall behind', hs, hs + r), surface('side wall', aside, aside)],
    lengthUnit: 'cm',
  };
  const factor = logUniform(random, 0.5, 2);
  const moved = movePlacement(
    setup,
    [{ surface: 'wall behind', speakerDistanceM: Math.max(0.15, factor * hs) }],
    'along',
  );
  const models = [
    {
      strength: uniform(random, 0.5, 0.95),
      cornerHz: logUniform(random, 400, 2000),
      lagM: uniform(random, 0, 0.05),
    },
    { strength: uniform(random, 0.3, 0.9), cornerHz: logUniform(random, 1000, 8000), lagM: 0 },
  ];
  const own = pressureLevelDb(speakerPressure(scenario.speaker, frequencyHz, c));
  const noiseDb = uniform(random, 0.05, 0.3);
  const curveOf = (placed: Setup): Curve => {
    const planes = placed.surfaces.map((each, k) => ({
      plane: planeGeometry(placed, each),
      model: models[k]!,
    }));
    const sum = pressureLevelDb(sumReflections(frequencyHz, planes, c, { secondOrder: true }));
    return { frequencyHz, levelDb: own.map((db, i) => db + sum[i]! + noiseDb * gaussian(random)) };
  };
  const curve = curveOf(setup);
  return {
    curve,
    range: workingRange(curve).range,
    setup,
    moved,
    there: curveOf(moved),
    microphone: 'along',
    factor,
  };
}

/** RMS in dB between 100 Hz and 1 kHz after 1/12-octave smoothing, level aligned, every octave weighing the same. */
export function missDb(predicted: Curve, there: Curve): number {
  const truth = smoothOctave(there, 1 / 12);
  const { curve } = alignLevel(smoothOctave(predicted, 1 / 12), truth, JUDGED);
  const a = sliceCurve(curve, JUDGED);
  const b = sliceCurve(truth, JUDGED);
  return weightedRms(
    a.levelDb.map((db, i) => db - b.levelDb[i]!),
    octaveWeights(a.frequencyHz),
  );
}
