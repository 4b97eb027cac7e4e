import { moveMicrophone, moveSpeaker } from '../../fixtures/simulate/place.js';
import { randomScenario } from '../../fixtures/simulate/randomScenario.js';
import type { Scenario, Vector } from '../../fixtures/simulate/scenario.js';
import { gaussian, seededRandom, uniform } from '../../fixtures/simulate/seededRandom.js';
import { simulateCurve } from '../../fixtures/simulate/simulate.js';
import type { Curve, FrequencyRange } from '../../src/curve/curve.js';
import { design } from '../../src/design.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { Filter } from '../../src/filter/filter.js';
import { filterFromSetting, type QConventionName } from '../../src/filter/qConventions.js';
import { DEFAULT_LIMITS } from '../../src/pipeline/designRequest.js';
import type { Design } from '../../src/schema/design.js';
import type { FaultType } from '../../src/schema/verification.js';

/** A simulated room with a design made for it. */
export interface Installation {
  readonly scenario: Scenario;
  readonly design: Design;
}

export interface FaultyCase {
  readonly type: FaultType | 'none';
  readonly filter?: number;
  readonly words: string;
  readonly after: Curve;
  /** RMS in dB over the range of what the fault changes, level left out. */
  readonly effectDb: number;
}

export function installation(seed: number, bands = 5): Installation {
  const random = seededRandom(seed);
  const plain = randomScenario(random, { withPhase: false, perOctave: 96 });
  const scenario = { ...plain, noise: { ...plain.noise, jitterDb: 0.3 } };
  const result = design({
    title: `simulated: ${scenario.name}`,
    measurements: [
      { fileName: 'before.txt', curve: simulateCurve(scenario), comments: [], rows: 957, warnings: [] },
    ],
    target: { bassShelfFrequencyHz: 120 },
    ...DEFAULT_LIMITS,
    bands,
  });
  return { scenario, design: result };
}

const CONVENTIONS: readonly QConventionName[] = ['poleQ', 'bandwidthOctaves', 'threeDbQ', 'bandwidthHz'];

const ofOneFilter: readonly FaultyCase['type'][] = ['filterMissing', 'gainSign', 'frequencyWrong', 'unknown'];

/** What a changed Q must come to, in a filter of at least so much gain, to be there at all. */
const SEEN_SHARE = 0.2;
const SEEN_DB = 1;

export const faultKinds = [
  'filterMissing',
  'gainSign',
  'frequencyWrong',
  'bypassed',
  'qConvention',
  'sampleRate',
  'speakerMoved',
] as const;

/**
 * One measurement of an installation in which one thing (or none) went wrong, the microphone back to within 2 cm.
 *
 * @param type `unknown`: one filter with about three times its Q, or a third of it
 * @param nudged whether a speaker that has moved did so by 5 to 15 cm any way but mostly level, without the microphone,
 *   in place of 8 to 40 cm from the wall with it
 */
export function faultyCase(
  { scenario, design: promised }: Installation,
  type: FaultyCase['type'],
  random: () => number,
  nudged = false,
): FaultyCase {
  const { filters, sampleRateHz } = promised;
  const index = Math.floor(random() * filters.length);
  const chosen = filters[index]!;
  const replaced = (other: Partial<Filter>) =>
    filters.map((filter, i) => (i === index ? { ...filter, ...other } : filter));
  let actual: readonly Filter[] = filters;
  let stretch = 1;
  let words = '';
  let place = scenario;
  if (type === 'filterMissing') actual = filters.filter((_, i) => i !== index);
  if (type === 'gainSign') actual = replaced({ gainDb: -chosen.gainDb });
  if (type === 'bypassed') actual = [];
  if (type === 'unknown') {
    const factor = uniform(random, 2.5, 3.5);
    const q = random() < 0.5 ? chosen.q * factor : chosen.q / factor;
    words = `Q ${chosen.q.toPrecision(2)} → ${q.toPrecision(2)}`;
    actual = replaced({ q });
  }
  if (type === 'frequencyWrong') {
    const frequencyHz = slipOf(chosen.frequencyHz, promised.range, random);
    words = `${chosen.frequencyHz} → ${frequencyHz}`;
    actual = replaced({ frequencyHz });
  }
  if (type === 'qConvention') {
    const first = Math.floor(random() * CONVENTIONS.length);
    // A convention that changes nothing is no fault: small gains, for example, have no points 3 dB short of them.
    for (let next = 0; next < CONVENTIONS.length; next++) {
      const name = CONVENTIONS[(first + next) % CONVENTIONS.length]!;
      words = name;
      actual = filters.map((f) => filterFromSetting(f, f.q, name, sampleRateHz) ?? f);
      if (
        actual.some((f, i) => Math.abs(f.q / filters[i]!.q - 1) > SEEN_SHARE && Math.abs(f.gainDb) > SEEN_DB)
      )
        break;
    }
  }
  if (type === 'sampleRate') stretch = random() < 0.5 ? 44100 / 48000 : 48000 / 44100;
  if (type === 'speakerMoved') {
    const byM = nudged ? uniform(random, 0.05, 0.15) : uniform(random, 0.08, 0.4);
    words = `${(100 * byM).toFixed(0)} cm`;
    place = nudged
      ? moveSpeaker(scenario, level(step(byM, random)), 0, 'stays')
      : moveSpeaker(scenario, [byM, 0, 0], 0);
  }
  const measured = moveMicrophone(place, step(0.02, random), Math.floor(random() * 2 ** 31));
  const room = simulateCurve(measured);
  const promisedDb = bankResponseDb(filters, sampleRateHz, room.frequencyHz);
  const eqDb = bankResponseDb(
    actual,
    sampleRateHz,
    room.frequencyHz.map((hz) => Math.min(sampleRateHz / 2, hz / stretch)),
  );
  const levelDb = uniform(random, -8, 8);
  const inRange = Array.from(room.frequencyHz, (hz, i) => ({ hz, db: eqDb[i]! - promisedDb[i]! })).filter(
    ({ hz }) => hz >= promised.range.fromHz && hz <= promised.range.toHz,
  );
  const mean = inRange.reduce((sum, { db }) => sum + db, 0) / inRange.length;
  return {
    type,
    ...(ofOneFilter.includes(type) && { filter: index }),
    words,
    after: { frequencyHz: room.frequencyHz, levelDb: room.levelDb.map((db, i) => db + eqDb[i]! + levelDb) },
    effectDb: Math.sqrt(inRange.reduce((sum, { db }) => sum + (db - mean) ** 2, 0) / inRange.length),
  };
}

/** A frequency mistyped, so that it still lies in the range: beyond it, it could only be told to be missing. */
function slipOf(frequencyHz: number, { fromHz, toHz }: FrequencyRange, random: () => number): number {
  const inside = (hz: number) => hz > fromHz && hz < toHz && Math.abs(Math.log2(hz / frequencyHz)) > 0.2;
  const kind = random();
  const text = String(frequencyHz);
  const slips =
    kind < 0.33
      ? [frequencyHz * 10, frequencyHz / 10]
      : kind < 0.66
        ? [...text].slice(0, -1).map((c, i) => Number(text.slice(0, i) + text[i + 1] + c + text.slice(i + 2)))
        : [];
  const possible = slips.filter(inside);
  if (possible.length > 0) return possible[Math.floor(random() * possible.length)]!;
  for (;;) {
    const hz = frequencyHz * 2 ** uniform(random, -2, 2);
    if (inside(hz)) return hz;
  }
}

/** The same way as seen from above, up or down by a third of it. */
const level = ([x, y, z]: Vector): Vector => [x, y, z / 3];

function step(lengthM: number, random: () => number): Vector {
  const [x, y, z] = [gaussian(random), gaussian(random), gaussian(random)];
  const length = Math.hypot(x, y, z);
  return [(x / length) * lengthM, (y / length) * lengthM, (z / length) * lengthM];
}
