import { moveSpeaker } from '../../fixtures/simulate/place.js';
import { type Placement, randomScenario } from '../../fixtures/simulate/randomScenario.js';
import type { Scenario, Vector } from '../../fixtures/simulate/scenario.js';
import { gaussian, logUniform, seededRandom, uniform } from '../../fixtures/simulate/seededRandom.js';
import { simulate, simulateCurve } from '../../fixtures/simulate/simulate.js';
import type { EvaluationCase } from './evaluationCase.js';
import { caseOf, gridded } from './simulatedRooms.js';

export interface MovedRoomOptions {
  readonly surroundings: 'few' | 'room';
  /** Default: one of all but `anechoic`, at random. */
  readonly placement?: Placement;
  /** How many more placements of the speaker were measured, each apart from the first. */
  readonly moves: number;
  /** Share of speakers whose drivers cancel at the crossover: one turned over, or late. */
  readonly faulty: number;
  /** Every move is along the desk or floor, the microphone coming along; default: most are. */
  readonly slid?: boolean;
}

/** How near to where it should be a hand sets the microphone down again, in metres, each way. */
const HAND_M = 0.01;

/**
 * A room measured again after moves of the speaker, as one who was told to move it by 10 to 20 cm would: mostly along
 * the desk or floor, so that sound from there may stay as it was, the microphone mostly coming along.
 */
export function movedRoom(seed: number, options: MovedRoomOptions): EvaluationCase {
  const random = seededRandom(seed);
  const { surroundings, placement } = options;
  const plain = randomScenario(random, {
    surroundings,
    withPhase: false,
    tapeErrorPercent: 4,
    ...(placement && { placement }),
  });
  const scenario = random() < options.faulty ? withCrossoverFault(plain, random) : plain;
  const moved = Array.from({ length: options.moves }, (_, k) =>
    anotherPlace(scenario, random, seed + k + 1, options.slid === true),
  );
  const sample = caseOf(seed, scenario, simulate(scenario));
  return {
    ...sample,
    input: { ...sample.input, moved: moved.map((place) => gridded(simulateCurve(place))) },
  };
}

/** Fourth-order drivers in step turned against each other cancel at the crossover; late by half a wave they do as well. */
function withCrossoverFault(scenario: Scenario, random: () => number): Scenario {
  const crossoverHz = logUniform(random, 1300, 3500);
  const waveM = 343 / crossoverHz;
  const fault =
    random() < 0.6
      ? { turnedOver: true, lateM: waveM * uniform(random, -0.12, 0.12) }
      : { turnedOver: false, lateM: waveM * uniform(random, 0.36, 0.62) };
  return { ...scenario, speaker: { ...scenario.speaker, crossoverHz, fault } };
}

function anotherPlace(scenario: Scenario, random: () => number, noiseSeed: number, slid: boolean): Scenario {
  const stepM = uniform(random, 0.08, 0.3);
  const turn = uniform(random, 0, 2 * Math.PI);
  const upM = random() < 0.25 && !slid ? uniform(random, -0.04, 0.12) : 0;
  // Never into the wall: where there is no room behind it, it comes forward.
  const backM = Math.cos(turn) * stepM;
  const room = scenario.baffle[0] - 0.25;
  const by: Vector = [backM < -room ? -backM : backM, Math.sin(turn) * stepM, upM];
  const comes = random() < 0.7 || slid;
  const { microphone, ...rest } = moveSpeaker(scenario, by, noiseSeed, comes ? 'comes along' : 'stays');
  const handM = comes ? HAND_M : 0;
  const hand = () => handM * gaussian(random);
  return { ...rest, microphone: [microphone[0] + hand(), microphone[1] + hand(), microphone[2] + hand()] };
}
