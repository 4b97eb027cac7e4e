/**
 * Whose dips are where the speaker was measured again at other placements, some speakers with drivers that cancel at
 * their crossover. A dip is the speaker's where its direct sound alone has at least half of it.
 * Run: npx tsx test/evaluate/movedDips.ts [cases a family] [first seed]
 * The weights were fitted on seeds 1000 to 1330.
 */

import { diagnose } from '../../src/diagnosis/diagnose.js';
import type { DiagnosisInput } from '../../src/diagnosis/scene/diagnosisInput.js';
import { type Call, isSpeakers, percent, WORTH_DB } from './dipCalls.js';
import { type MovedRoomOptions, movedRoom } from './movedRooms.js';
import { ownShareOf } from './ownShare.js';

const count = Number(process.argv[2] ?? 24);
const firstSeed = Number(process.argv[3] ?? 100000);
const DEEP_DB = 8;
const CROSSOVER = { fromHz: 1000, toHz: 5000 };

const isMoved = ({ finding }: Call) => finding.verdict === 'move';
const isFilled = ({ finding }: Call) => finding.verdict === 'equalize';
const isDeep = ({ finding: { levelDb, frequencyHz } }: Call) =>
  levelDb <= -DEEP_DB && frequencyHz >= CROSSOVER.fromHz && frequencyHz <= CROSSOVER.toHz;

console.log(
  'deep own: of dips of 8 dB or more from 1 to 5 kHz that the speaker has, % called its own / "move" / "equalize"; deep not\n' +
    'own: of such that it has not, % called its own; all: of all dips of 1.2 dB or more, the same. In brackets: of how many.\n',
);
const families: readonly (Omit<MovedRoomOptions, 'surroundings'> & { readonly name: string })[] = [
  { name: 'one move', moves: 1, faulty: 0.5 },
  { name: 'three moves', moves: 3, faulty: 0.5 },
  { name: 'three, no faults', moves: 3, faulty: 0 },
  { name: 'slid on a desk', moves: 1, faulty: 0.25, placement: 'desk', slid: true },
  { name: 'slid three times', moves: 3, faulty: 0.25, placement: 'desk', slid: true },
];
const pooled: Call[] = [];
for (const { name, ...options } of families) {
  const calls = new Map<string, Call[]>([
    ['surfaces known', []],
    ['not known', []],
  ]);
  for (let s = firstSeed; s < firstSeed + count; s++) {
    const sample = movedRoom(s, { ...options, surroundings: s % 2 === 0 ? 'few' : 'room' });
    const share = ownShareOf(sample);
    const { setup, ...unknown } = sample.input;
    const inputs: readonly (readonly [string, DiagnosisInput])[] = [
      ['surfaces known', sample.input],
      ['not known', unknown],
    ];
    for (const [known, input] of inputs)
      for (const finding of diagnose(input).findings)
        if (finding.kind === 'dip' && finding.levelDb <= -WORTH_DB)
          calls.get(known)!.push({ own: share(finding) >= 0.5, finding });
  }
  for (const [known, here] of calls) {
    pooled.push(...here);
    const own = here.filter((c) => c.own);
    const other = here.filter((c) => !c.own);
    const deep = own.filter(isDeep);
    console.log(
      `${name.padEnd(17)} ${known.padEnd(15)} deep own ${percent(deep, isSpeakers)}${percent(deep, isMoved)}${percent(deep, isFilled)}` +
        `  deep not own ${percent(other.filter(isDeep), isSpeakers)}` +
        `  all own ${percent(own, isSpeakers)}${percent(own, isMoved)}${percent(own, isFilled)}` +
        `  not own ${percent(other, isSpeakers)}${percent(other, isFilled)}`,
    );
  }
}
console.log('\nconfidence of "the speaker"');
const EDGES = [0.6, 0.7, 0.8, 0.9, 0.95, 0.98, 1.01];
EDGES.slice(0, -1).forEach((from, k) => {
  const here = pooled.filter(
    (c) => isSpeakers(c) && c.finding.confidence >= from && c.finding.confidence < EDGES[k + 1]!,
  );
  if (here.length === 0) return;
  const said = here.reduce((sum, { finding }) => sum + finding.confidence, 0) / here.length;
  console.log(
    `  from ${from.toFixed(2)}: said ${(100 * said).toFixed(0)} %, right ${percent(here, (c) => c.own)}`,
  );
});
