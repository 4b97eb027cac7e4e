import { moveSpeaker } from '../../fixtures/simulate/place.js';
import { randomScenario } from '../../fixtures/simulate/randomScenario.js';
import type { Scenario, Vector } from '../../fixtures/simulate/scenario.js';
import { logUniform, seededRandom } from '../../fixtures/simulate/seededRandom.js';
import { setupOf } from '../../fixtures/simulate/setupOf.js';
import { simulateCurve } from '../../fixtures/simulate/simulate.js';
import type { Setup } from '../../src/acoustics/setup.js';
import { alignLevel } from '../../src/curve/alignLevel.js';
import type { Curve, FrequencyRange } from '../../src/curve/curve.js';
import { octaveWeights } from '../../src/curve/octaveWeights.js';
import { sliceCurve } from '../../src/curve/sliceCurve.js';
import { smoothOctave } from '../../src/curve/smoothOctave.js';
import { weightedRms } from '../../src/curve/weightedRms.js';
import { workingRange } from '../../src/curve/workingRange.js';
import { type MicrophonePlace, movePlacement } from '../../src/whatIf/movePlacement.js';
import { gridded } from './simulatedRooms.js';

/** A simulated speaker measured at two places, as its user would describe the move. */
export interface WhatIfCase {
  readonly scenario: Scenario;
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
  const place = (): { moved: Setup; microphone: MicrophonePlace } => {
    if (microphone === 'stays') {
      const moved = movePlacement(setup, moves, 'stays');
      if (moved.microphoneDistance.m > 0.4) return { moved, microphone };
    }
    return { moved: movePlacement(setup, moves, 'along'), microphone: 'along' };
  };
  const placed = place();
  const elsewhere = moveSpeaker(
    scenario,
    by as unknown as Vector,
    seed + 7,
    placed.microphone === 'along' ? 'comes along' : 'stays',
  );
  const curve = gridded(simulateCurve(scenario));
  return {
    scenario,
    curve,
    range: workingRange(curve).range,
    setup,
    ...placed,
    there: gridded(simulateCurve(elsewhere)),
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
