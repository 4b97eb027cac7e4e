import { seededRandom, uniform } from '../../fixtures/simulate/seededRandom.js';
import type { Curve } from '../../src/curve/curve.js';
import { verifyDesign } from '../../src/verify/verifyDesign.js';
import { type FaultyCase, faultKinds, faultyCase, installation } from './faultyInstallations.js';

/**
 * How often `verify` names what went wrong in simulated installations (measurement noise 0.3 dB, microphone put back
 * to within 2 cm), and how often it leaves faultless ones alone; also where they are heard with another calibration
 * (up to 2.5 dB at either end and a quarter of a dB an octave), which is right where no filter is accused; and how often it
 * names a filter that has about three times its Q or a third of it.
 *
 *     npx tsx test/evaluate/verify.ts [rooms = 29] [first seed = 1]
 */
const rooms = Number(process.argv[2] ?? 29);
const firstSeed = Number(process.argv[3] ?? 1);
/** What changes the response by less over the range is hardly a fault. */
const AUDIBLE_DB = 0.3;
const FAULTLESS_PER_ROOM = 3;

interface Row {
  cases: number;
  right: number;
  /** The right type, if not the right filter. */
  type: number;
  audible: number;
  audibleRight: number;
}
const NUDGED = 'nudged 5-15 cm';
const OTHER_TONE = 'other tone';
const OTHER_Q = 'Q 3 or 1/3 times';
type RowName = FaultyCase['type'] | typeof NUDGED | typeof OTHER_TONE | typeof OTHER_Q;
const typeOf = (name: RowName): FaultyCase['type'] =>
  name === NUDGED ? 'speakerMoved' : name === OTHER_TONE ? 'none' : name === OTHER_Q ? 'unknown' : name;
const rows = new Map<RowName, Row>();
const misses: string[] = [];

for (let seed = firstSeed, done = 0; done < rooms; seed++) {
  const room = installation(seed);
  if (room.design.filters.length === 0) continue;
  done++;
  const random = seededRandom(seed + 0x5eed);
  const faultless = Array.from({ length: FAULTLESS_PER_ROOM }, () => 'none' as const);
  const kinds: readonly RowName[] = [...faultless, ...faultKinds, NUDGED, OTHER_TONE, OTHER_Q];
  for (const name of kinds) {
    const kind = typeOf(name);
    const plain = faultyCase(room, kind, random, name === NUDGED);
    const sample = name === OTHER_TONE ? { ...plain, after: inOtherTone(plain.after, random) } : plain;
    const { faults, asPromised } = verifyDesign({ design: room.design, after: sample.after });
    const first = faults[0];
    const accuses = faults.some((fault) => fault.type !== 'unknown' || fault.filter !== undefined);
    const isNamed = first?.type === kind && (name !== OTHER_Q || first.q !== undefined);
    const type = name === OTHER_TONE ? !accuses : kind === 'none' ? asPromised : isNamed;
    const right = type && (kind === 'none' || first?.filter === sample.filter);
    const audible = kind === 'none' || kind === 'speakerMoved' || sample.effectDb >= AUDIBLE_DB;
    const row = rows.get(name) ?? { cases: 0, right: 0, type: 0, audible: 0, audibleRight: 0 };
    rows.set(name, {
      cases: row.cases + 1,
      right: row.right + Number(right),
      type: row.type + Number(type),
      audible: row.audible + Number(audible),
      audibleRight: row.audibleRight + Number(audible && right),
    });
    if (!right) {
      const named = first ? `${first.type} ${first.filter ?? ''} (${first.explains})` : 'as promised';
      misses.push(
        `${seed} ${room.scenario.name}: ${name} ${sample.filter ?? ''} ${sample.words}, ${sample.effectDb.toFixed(2)} dB RMS; named ${named}`,
      );
    }
  }
}

const share = (part: number, of: number) =>
  of === 0 ? '      -' : `${((100 * part) / of).toFixed(1).padStart(5)} %`;
const print = (name: string, row: Row) =>
  console.log(
    `${name.padEnd(16)} ${String(row.cases).padStart(4)} cases  right ${share(row.right, row.cases)}  right type ${share(row.type, row.cases)}  right where ≥ ${AUDIBLE_DB} dB ${share(row.audibleRight, row.audible)} (${row.audible})`,
  );
/** Without what came later, so that figures stay comparable. */
const all = [...rows].filter(([name]) => faultKinds.some((kind) => kind === name)).map(([, row]) => row);
const sum = (value: (row: Row) => number) => all.reduce((total, row) => total + value(row), 0);
for (const [kind, row] of rows) print(kind === 'none' ? 'faultless' : kind, row);
print('all faults', {
  cases: sum((r) => r.cases),
  right: sum((r) => r.right),
  type: sum((r) => r.type),
  audible: sum((r) => r.audible),
  audibleRight: sum((r) => r.audibleRight),
});
for (const miss of misses) console.log(`  missed: ${miss}`);

/** Heard through a microphone that is off at both ends and tilts. */
function inOtherTone({ frequencyHz, levelDb }: Curve, random: () => number): Curve {
  const [treble, bass, tilt] = [2.5, 2, 0.25].map((most) => uniform(random, -most, most));
  const [trebleHz, bassHz] = [uniform(random, 5000, 11000), uniform(random, 35, 90)];
  const toneDb = (hz: number) =>
    treble! / (1 + (trebleHz / hz) ** 2) + bass! / (1 + (hz / bassHz) ** 2) + tilt! * Math.log2(hz / 1000);
  return { frequencyHz, levelDb: levelDb.map((db, i) => db + toneDb(frequencyHz[i]!)) };
}
