/**
 * What is said of dips far down the box's fall where a range from 20 Hz is asked for: in simulated rooms as they are, and with the
 * noise of a recording 18 to 35 dB under the pass band. A dip is a reflection's where what is added has half of it.
 * Run: npx tsx test/evaluate/beneathSpeaker.ts [rooms] [first seed]
 */
import { gaussian, seededRandom, uniform } from '../../fixtures/simulate/seededRandom.js';
import type { Curve } from '../../src/curve/curve.js';
import { diagnose } from '../../src/diagnosis/diagnose.js';
import { fallDb, fitRollOff } from '../../src/diagnosis/speaker/rollOff.js';
import type { Finding } from '../../src/diagnosis/verdict/finding.js';
import { depthIn } from './ownShare.js';
import { simulatedRoom } from './simulatedRooms.js';

const [count = 40, first = 44000] = process.argv.slice(2, 4).map(Number);
const FAR_DOWN_DB = 8;
const LOUD_BELOW_HZ = 300;
/** Bins of a transform as long as a recording of half a second. */
const BIN_HZ = 2;

interface Told {
  readonly finding: Finding;
  readonly isReflections: boolean;
}

function noisy({ frequencyHz, levelDb }: Curve, seed: number): Curve {
  const random = seededRandom(seed);
  const middle = levelDb.filter((_, i) => frequencyHz[i]! > LOUD_BELOW_HZ && frequencyHz[i]! < 3000);
  const floorDb = middle.reduce((sum, db) => sum + db, 0) / middle.length - uniform(random, 18, 35);
  const bins = Array.from({ length: LOUD_BELOW_HZ / BIN_HZ + 2 }, () => [gaussian(random), gaussian(random)]);
  const noisyDb = levelDb.map((db, i) => {
    const hz = frequencyHz[i]!;
    if (hz >= LOUD_BELOW_HZ) return db;
    const at = Math.floor(hz / BIN_HZ);
    const share = hz / BIN_HZ - at;
    const [re, im] = [0, 1].map((k) => (1 - share) * bins[at]![k]! + share * bins[at + 1]![k]!);
    const strength = 10 ** ((floorDb + 10 * Math.log10(60 / hz) - db) / 20) * Math.SQRT1_2;
    return db + 20 * Math.log10(Math.hypot(1 + strength * re!, strength * im!));
  });
  return { frequencyHz, levelDb: noisyDb };
}

function toldOf(seed: number, withNoise: boolean): Told[] {
  const sample = simulatedRoom(seed, { surroundings: seed % 2 ? 'room' : 'few', tapeErrorPercent: 4 });
  const curve = withNoise ? noisy(sample.input.curve, 3 * seed + 1) : sample.input.curve;
  const { frequencyHz, levelDb } = curve;
  const fall = fallDb(fitRollOff(curve), frequencyHz);
  if (!fall) return [];
  const [added, measured] = [sample.interferenceDb, levelDb].map((db) => depthIn(frequencyHz, db)) as [
    ReturnType<typeof depthIn>,
    ReturnType<typeof depthIn>,
  ];
  return diagnose({ curve, range: { fromHz: 20, toHz: sample.input.range.toHz } })
    .findings.filter(({ kind, frequencyHz: at }) => {
      const i = frequencyHz.findIndex((hz) => hz >= at * 0.9999);
      return kind === 'dip' && fall[i]! <= -FAR_DOWN_DB;
    })
    .map((finding) => ({
      finding,
      isReflections: added(finding) >= 0.5 * Math.max(0.5, measured(finding)),
    }));
}

for (const withNoise of [false, true]) {
  const told = Array.from({ length: count }, (_, k) => toldOf(first + k, withNoise)).flat();
  const counted = (of: (finding: Finding) => boolean) => {
    const here = told.filter(({ finding }) => of(finding));
    return `${here.length}, of them one ${here.filter(({ isReflections }) => isReflections).length}`;
  };
  console.log(
    `${withNoise ? 'with noise' : 'as they are'}: dips ${FAR_DOWN_DB} dB and more down ${told.length}`,
  );
  console.log(`  called a reflection ${counted(({ cause }) => cause.type === 'reflection')}`);
  console.log(`  called "move" ${counted(({ verdict }) => verdict === 'move')}`);
  console.log(`  not told ${counted(({ cause }) => cause.type === 'unknown')}`);
}
