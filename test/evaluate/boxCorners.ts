// How well the corner of a box is found in rooms, and what the EQ does half an octave below the true one:
//   npx tsx test/evaluate/boxCorners.ts [cases per row] [first seed] [uneven]
// With `uneven` the speakers have dips and peaks of their own from 100 Hz to 1 kHz and corners from 40 to 120 Hz, in the open too.
import { randomScenario } from '../../fixtures/simulate/randomScenario.js';
import type { Scenario } from '../../fixtures/simulate/scenario.js';
import { seededRandom } from '../../fixtures/simulate/seededRandom.js';
import { simulate } from '../../fixtures/simulate/simulate.js';
import type { Box } from '../../src/acoustics/boxRolloff.js';
import { design } from '../../src/design.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import { DEFAULT_LIMITS } from '../../src/pipeline/designRequest.js';
import { type Surroundings, trueCornerHz, unevenSpeaker } from './cornerCases.js';

const count = Math.max(1, Number(process.argv[2] ?? 12));
const first = Number(process.argv[3] ?? 520000);
const uneven = process.argv[4] === 'uneven';

function scenarioOf(seed: number, kind: Box['kind'], surroundings: Surroundings): Scenario {
  if (uneven || surroundings === 'open') return unevenSpeaker(seed, kind, surroundings);
  const random = seededRandom(seed);
  const scenario = randomScenario(random, { surroundings, withPhase: false });
  const { box } = scenario.speaker;
  const hz = box.kind === 'sealed' ? box.resonanceHz : box.cornerHz;
  const wanted: Box =
    box.kind === kind
      ? box
      : kind === 'sealed'
        ? { kind, resonanceHz: hz, qtc: 0.55 + 0.65 * random() }
        : { kind, cornerHz: hz };
  return { ...scenario, speaker: { ...scenario.speaker, box: wanted } };
}

const quantile = (values: readonly number[], share: number) => {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN;
};
const three = (values: readonly number[], digits: number) =>
  [0.1, 0.5, 0.9].map((share) => quantile(values, share).toFixed(digits).padStart(7)).join('');

console.log(`${count} cases a row from seed ${first}: 10 %, median and 90 %`);
console.log(
  '                      found / true corner   none   EQ ½ oct. below it (dB)    remaining RMS (dB)',
);
for (const surroundings of uneven ? (['open', 'few', 'room'] as const) : (['few', 'room'] as const)) {
  for (const kind of ['sealed', 'vented'] as const) {
    for (const withSetup of surroundings === 'open' ? [false] : [true, false]) {
      const ratios: number[] = [];
      const eqDb: number[] = [];
      const remaining: number[] = [];
      for (let i = 0; i < count; i++) {
        const scenario = scenarioOf(first + i, kind, surroundings);
        const { curve, setup } = simulate(scenario);
        const cornerHz = trueCornerHz(scenario.speaker.box);
        const made = design({
          title: 'simulated',
          measurements: [
            { fileName: 'simulated.txt', curve, comments: [], rows: curve.frequencyHz.length, warnings: [] },
          ],
          target: {},
          ...DEFAULT_LIMITS,
          effort: 'quick',
          ...(withSetup && { setup }),
        });
        if (made.cornerHz !== undefined) ratios.push(made.cornerHz / cornerHz);
        const at = Float64Array.of(cornerHz * Math.SQRT1_2);
        eqDb.push(bankResponseDb(made.filters, made.sampleRateHz, at)[0]!);
        remaining.push(made.errorWithZones.afterRmsDb);
      }
      const name = `${surroundings}, ${kind}, ${withSetup ? 'set-up' : 'none'}`.padEnd(21);
      const none = String(count - ratios.length).padStart(6);
      console.log(`${name}${three(ratios, 2)} ${none} ${three(eqDb, 1)}     ${three(remaining, 2)}`);
    }
  }
}
