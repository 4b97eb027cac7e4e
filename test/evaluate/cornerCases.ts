import { randomScenario } from '../../fixtures/simulate/randomScenario.js';
import type { Resonance, Scenario } from '../../fixtures/simulate/scenario.js';
import { logUniform, seededRandom, uniform } from '../../fixtures/simulate/seededRandom.js';
import { type Box, boxLevelDb } from '../../src/acoustics/boxRolloff.js';

export type Surroundings = 'open' | 'few' | 'room';

/** Where a box is 3 dB down, by halving. */
export function trueCornerHz(box: Box): number {
  let [low, high] = [5, 500];
  for (let i = 0; i < 50; i++) {
    const middle = Math.sqrt(low * high);
    if (boxLevelDb(middle, box) < -3.0103) low = middle;
    else high = middle;
  }
  return high;
}

/**
 * A speaker with one to three dips and peaks of its own between 100 Hz and 1 kHz, 2 to 6 dB and of Q 0.7 to 5; its
 * corner at 40 to 120 Hz, a closed box of Q 0.5 to 1.1 or a vented one.
 */
export function unevenSpeaker(seed: number, kind: Box['kind'], surroundings: Surroundings): Scenario {
  const random = seededRandom(seed);
  const scenario = randomScenario(random, {
    withPhase: false,
    ...(surroundings === 'open' ? { placement: 'anechoic' } : { surroundings }),
  });
  const shape: Box =
    kind === 'sealed' ? { kind, resonanceHz: 100, qtc: uniform(random, 0.5, 1.1) } : ventedShape(random);
  const scale = logUniform(random, 40, 120) / trueCornerHz(shape);
  const box: Box =
    shape.kind === 'sealed'
      ? { ...shape, resonanceHz: 100 * scale }
      : { ...shape, cornerHz: shape.cornerHz * scale };
  const own = Array.from({ length: 1 + Math.floor(3 * random()) }, (): Resonance => {
    const sign = random() < 0.5 ? -1 : 1;
    return {
      frequencyHz: logUniform(random, 100, 1000),
      gainDb: sign * uniform(random, 2, 6),
      q: logUniform(random, 0.7, 5),
    };
  });
  const above = scenario.speaker.resonances.filter(({ frequencyHz }) => frequencyHz > 1000);
  return { ...scenario, speaker: { ...scenario.speaker, box, resonances: [...own, ...above] } };
}

/** Fourth-order Butterworth, or two sections from a quasi-Butterworth to a lightly rippled Chebyshev alignment. */
function ventedShape(random: () => number): Box {
  if (random() < 0.5) return { kind: 'vented', cornerHz: 100 };
  const [d1, d2] = [1 / uniform(random, 0.48, 0.7), 1 / uniform(random, 0.9, 1.7)];
  return { kind: 'vented', cornerHz: 100, coefficients: [d1 + d2, 2 + d1 * d2, d1 + d2] };
}
