import type { Setup } from '../../src/acoustics/setup.js';
import { logGrid } from '../../src/curve/logGrid.js';
import { workingRange } from '../../src/curve/workingRange.js';
import { seededRandom } from '../../src/fit/seededRandom.js';
import type { EvaluationCase, TrueResonance } from './evaluationCase.js';
import { trueCancellations } from './trueCancellations.js';

const SPEED_MS = 343.2;
const LATE_PATHS = 60;

interface Plane {
  readonly name: string;
  /** Toward the room. */
  readonly normal: readonly [number, number, number];
  readonly hs: number;
  readonly strength: number;
  /** Fall of the strength in dB per octave above 200 Hz. */
  readonly fallDb: number;
  /** What the sound lags beside the way that it goes. */
  readonly lagM: number;
}

/**
 * Rooms of the kind of `pathRooms.ts`, measured again after moves of 8 to 30 cm, the microphone coming along: mostly on one
 * level, so that what desk, floor or ceiling send back stays as it was. No sphere and no scattering dulls the reflections.
 */
export function movedPathRoom(
  seed: number,
  { moves, open = false }: { readonly moves: number; readonly open?: boolean },
): EvaluationCase {
  const random = seededRandom(seed * 6151 + 101);
  const between = (a: number, b: number) => a + (b - a) * random();
  const gauss = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const frequencyHz = logGrid(20, 20000);
  const octave = frequencyHz.map((f) => Math.log2(f / 1000));
  const awayM = between(0.6, 2.2);
  const plane = (
    name: string,
    normal: Plane['normal'],
    hs: readonly [number, number],
    strength: readonly [number, number],
    fallDb: readonly [number, number],
    lagM: number,
  ): Plane => ({
    name,
    normal,
    hs: between(...hs),
    strength: between(...strength),
    fallDb: between(...fallDb),
    lagM: between(0, lagM),
  });
  const planes = [
    plane('wall behind', [1, 0, 0], [0.12, 0.95], [0.45, 1], [1.5, 5], 0.07),
    plane('side wall', [0, 1, 0], [0.35, 1.6], [0.4, 0.95], [0.2, 2.5], 0.04),
    random() < 0.5
      ? plane('desk', [0, 0, 1], [0.12, 0.42], [0.35, 0.9], [-0.3, 1.5], 0.02)
      : plane('floor', [0, 0, 1], [0.6, 1.2], [0.3, 0.9], [0.2, 2.5], 0.03),
    plane('ceiling', [0, 0, -1], [1.1, 1.9], [0.4, 0.9], [0.2, 2.5], 0.03),
  ];
  const count = open ? 0 : 1 + Math.floor(random() * 4);
  const chosen = planes
    .map((each) => ({ each, order: random() }))
    .sort((a, b) => a.order - b.order)
    .slice(0, count)
    .map(({ each }) => ({
      ...each,
      waves: [0, 1, 2].map(() => ({ a: 1.2 * gauss(), k: between(0.6, 2), p: between(0, 2 * Math.PI) })),
    }));
  const liftM = between(-0.15, 0.25);
  const asideM = between(-0.3, 0.3);
  const placeAt = ({ normal, hs }: Plane, by: readonly number[]) => {
    const here = Math.max(0.08, hs + normal.reduce((sum, n, k) => sum + n * by[k]!, 0));
    const beyond = normal[0] ? awayM : normal[1] ? asideM : normal[2] * liftM;
    return { hs: here, hm: Math.max(0.05, here + beyond) };
  };
  const pathsAt = (by: readonly number[]) =>
    chosen.map(({ waves, ...each }) => {
      const { hs, hm } = placeAt(each, by);
      const lengthM = Math.sqrt(awayM ** 2 + 4 * hs * hm);
      const re = new Float64Array(frequencyHz.length);
      const im = new Float64Array(frequencyHz.length);
      frequencyHz.forEach((f, i) => {
        let db = 20 * Math.log10((each.strength * awayM) / lengthM);
        db -= each.fallDb * Math.max(0, octave[i]! - Math.log2(0.2));
        for (const { a, k, p } of waves) db += a * Math.cos(2 * k * octave[i]! + p);
        const phase = (-2 * Math.PI * f * (lengthM - awayM + each.lagM)) / SPEED_MS;
        re[i] = 10 ** (db / 20) * Math.cos(phase);
        im[i] = 10 ** (db / 20) * Math.sin(phase);
      });
      return { name: each.name, re, im };
    });
  const lateLevel = open || random() < 0.4 ? 0 : between(0.02, 0.12);
  const late = Array.from({ length: LATE_PATHS }, () => ({
    strength: 0.4 * lateLevel * gauss(),
    delayS: between(0.004, 0.06),
    toward: gauss(),
  }));
  const resonances: TrueResonance[] = Array.from({ length: 2 + Math.floor(random() * 6) }, () => ({
    frequencyHz: 70 * (9000 / 70) ** random(),
    gainDb: (random() < 0.55 ? 1 : -1) * between(1, 5.5),
    q: 0.8 * 10 ** random(),
  }));
  const cornerHz = 45 * 3 ** random();
  const order = random() < 0.5 ? 2 : 4;
  const tiltDb = between(-0.8, 0.4);
  const stepDb = between(-1, 3);
  const stepHz = 500 * 2 ** random();
  const noiseDb = between(0.1, 0.4);
  const offsetDb = between(70, 90);
  const ownDb = Float64Array.from(frequencyHz, (f, i) => {
    let db = offsetDb + tiltDb * octave[i]! + stepDb / (1 + (stepHz / f) ** 2);
    for (const { frequencyHz: f0, gainDb, q } of resonances) {
      const w = f / f0;
      const a = 10 ** (gainDb / 40);
      const u = (1 - w * w) ** 2;
      db += 10 * Math.log10((u + ((a * w) / q) ** 2) / (u + (w / (a * q)) ** 2));
    }
    return db - 10 * Math.log10(1 + (cornerHz / f) ** (2 * order)) - 10 * Math.log10(1 + (f / 22000) ** 8);
  });
  const addedAt = (by: readonly number[]) => {
    const paths = pathsAt(by);
    const shiftM = Math.hypot(...by);
    return Float64Array.from(frequencyHz, (f, i) => {
      let re = paths.reduce((sum, p) => sum + p.re[i]!, 1);
      let im = paths.reduce((sum, p) => sum + p.im[i]!, 0);
      for (const { strength, delayS, toward } of late) {
        const phase = 2 * Math.PI * f * (delayS + (toward * shiftM) / SPEED_MS);
        re += strength * Math.cos(phase);
        im -= strength * Math.sin(phase);
      }
      return 10 * Math.log10(re * re + im * im);
    });
  };
  const heard = (addedDb: Float64Array) => addedDb.map((db, i) => ownDb[i]! + db + noiseDb * gauss());
  const here = [0, 0, 0];
  const interferenceDb = addedAt(here);
  const levelDb = heard(interferenceDb);
  const moved = Array.from({ length: moves }, () => {
    const stepM = between(0.08, 0.3);
    const turn = between(0, 2 * Math.PI);
    const upM = random() < 0.3 ? between(-0.05, 0.15) : 0;
    const by = [Math.abs(stepM * Math.cos(turn)), stepM * Math.sin(turn), upM];
    return { frequencyHz, levelDb: heard(addedAt(by)) };
  });
  const length = (m: number) => ({ m, toleranceM: 0 });
  const setup: Setup = {
    temperatureC: 20,
    microphoneDistance: length(awayM),
    baffleWidthM: between(0.13, 0.23),
    lengthUnit: 'cm',
    surfaces: chosen.map((each) => {
      const { hs, hm } = placeAt(each, here);
      const tape = 1 + 0.03 * gauss();
      return {
        name: each.name,
        speakerDistance: length(hs * tape),
        microphoneDistance: length(each.normal[0] ? hs * tape + awayM : hm * tape),
      };
    }),
  };
  const { cancellations } = trueCancellations(frequencyHz, pathsAt(here));
  return {
    id: `moved path room ${seed}`,
    input: {
      curve: { frequencyHz, levelDb },
      range: workingRange({ frequencyHz, levelDb }).range,
      setup,
      moved,
    },
    cancellations,
    resonances,
    interferenceDb,
    ownDb,
    distancesM: new Map(chosen.map(({ name, hs }) => [name, hs] as const)),
  };
}
