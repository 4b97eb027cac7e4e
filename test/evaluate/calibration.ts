/**
 * Stated probability of a finding's cause against the share that is true, for peaks and dips, by what was known. A finding is
 * the speaker's where its direct sound alone has at least half of it, and a reflection's where what is added has.
 * Run: npx tsx test/evaluate/calibration.ts [cases a family] [first seed]
 * The weights of peaks and of moved speakers were fitted on seeds 4410000 to 4410029 and 5510000 to 5510029.
 */

import { diagnose } from '../../src/diagnosis/diagnose.js';
import type { DiagnosisInput } from '../../src/diagnosis/scene/diagnosisInput.js';
import type { Finding } from '../../src/diagnosis/verdict/finding.js';
import { WORTH_DB } from './dipCalls.js';
import { dullWalls } from './dullWalls.js';
import type { EvaluationCase } from './evaluationCase.js';
import { lateEchoes } from './lateEchoes.js';
import { movedPathRoom } from './movedPathRooms.js';
import { movedRoom } from './movedRooms.js';
import { depthIn } from './ownShare.js';
import { pathRoom } from './pathRooms.js';
import { fullyMeasuredRoom, severalPositions, simulatedRoom } from './simulatedRooms.js';
import { all, alone, geometry, type Method } from './whatIsKnown.js';

const count = Number(process.argv[2] ?? 8);
const firstSeed = Number(process.argv[3] ?? 9100000);
/** Lower, the box's fall is more of the curve than anything else. */
const FROM_HZ = 50;
const BROAD_OCTAVES = 1 / 3;
const EDGES = [0, 0.6, 0.7, 0.8, 0.9, 0.95, 1.01];

interface Judged {
  readonly finding: Finding;
  readonly own: boolean;
  readonly added: boolean;
  readonly known: string;
}

const movedAlone: Method = [
  'moved',
  ({ curve, range, moved }) => ({ curve, range, ...(moved && { moved }) }),
];
const positions: Method = [
  'several positions',
  ({ curve, range, spreadDb }) => ({ curve, range, ...(spreadDb && { spreadDb }) }),
];
const movedAll: Method = ['moved and geometry', (input) => input];
const one = [alone, geometry];
const moved = [movedAlone, movedAll];
const around = (seed: number) => (seed % 2 === 0 ? 'few' : 'room');
const families: readonly (readonly [(seed: number) => EvaluationCase, readonly Method[]])[] = [
  [(s) => simulatedRoom(s, { surroundings: around(s), tapeErrorPercent: 4 }), one],
  [(s) => pathRoom(s, { geometryError: 0.03, geometryBias: 0, surfaces: 'random' }), one],
  [(s) => dullWalls(s), one],
  [(s) => simulatedRoom(s, { placement: 'anechoic' }), [alone]],
  [(s) => pathRoom(s, { geometryError: 0, geometryBias: 0, surfaces: 'none' }), [alone]],
  [(s) => lateEchoes(s, 'level'), [alone]],
  [(s) => lateEchoes(s, 'impulse'), [['impulse response', (input: DiagnosisInput) => input]]],
  [(s) => fullyMeasuredRoom(s, { surroundings: around(s), tapeErrorPercent: 4 }), [all]],
  [(s) => severalPositions(s, { surroundings: around(s), tapeErrorPercent: 4 }), [positions]],
  [(s) => severalPositions(s, { placement: 'anechoic' }), [positions]],
  [(s) => movedRoom(s, { moves: 1, faulty: 0.25, surroundings: around(s) }), moved],
  [(s) => movedRoom(s, { moves: 3, faulty: 0.25, surroundings: around(s) }), moved],
  [
    (s) => movedRoom(s, { moves: 1, faulty: 0.25, surroundings: around(s), placement: 'desk', slid: true }),
    moved,
  ],
  [(s) => movedPathRoom(s, { moves: 1 }), moved],
  [(s) => movedPathRoom(s, { moves: 3 }), moved],
  [(s) => movedPathRoom(s, { moves: 1, open: true }), [movedAlone]],
];

const judged: Judged[] = families.flatMap(([make, methods]) =>
  Array.from({ length: count }, (_, k) => make(firstSeed + k)).flatMap((sample) => {
    const { frequencyHz, levelDb } = sample.input.curve;
    const [measured, own, added] = [levelDb, sample.ownDb, sample.interferenceDb].map((db) =>
      depthIn(frequencyHz, db),
    ) as [ReturnType<typeof depthIn>, ReturnType<typeof depthIn>, ReturnType<typeof depthIn>];
    return methods.flatMap(([known, restrict]) =>
      diagnose(restrict(sample.input))
        .findings.filter((finding) => finding.frequencyHz >= FROM_HZ)
        .map((finding): Judged => {
          const sign = finding.kind === 'dip' ? 1 : -1;
          const half = 0.5 * Math.max(0.5, sign * measured(finding));
          return {
            finding,
            known,
            own: sign * own(finding) >= half,
            added: sign * added(finding) >= half,
          };
        }),
    );
  }),
);

const groups: readonly (readonly [string, (each: Judged) => boolean])[] = [
  ...[...new Set(judged.map(({ known }) => known))].map(
    (known) => [known, (each: Judged) => each.known === known] as const,
  ),
  ...[true, false].flatMap((broad) =>
    [true, false].map(
      (low) =>
        [
          `${broad ? 'broad' : 'narrow'}, ${low ? 'below' : 'above'} 1 kHz`,
          ({ finding }: Judged) =>
            finding.widthOctaves >= BROAD_OCTAVES === broad && finding.frequencyHz < 1000 === low,
        ] as const,
    ),
  ),
];

console.log(
  'said → true in per cent, in brackets of how many; "not known" is true where it is not the speaker\'s',
);
for (const kind of ['dip', 'peak'] as const)
  for (const [cause, words, isTrue] of [
    ['speaker', 'the speaker', (each: Judged) => each.own],
    ['reflection', 'a reflection', (each: Judged) => each.added],
    ['unknown', 'not known', (each: Judged) => !each.own],
  ] as const) {
    console.log(`\n${kind}s: ${words}`);
    const here = judged.filter(({ finding }) => finding.kind === kind && finding.cause.type === cause);
    for (const [name, isOf] of groups) console.log(`  ${name.padEnd(24)}${bins(here.filter(isOf), isTrue)}`);
  }

console.log(`\ndips of ${WORTH_DB} dB or more: equalize / leave / move of the speaker's own, and of others`);
for (const [name, isOf] of groups) {
  const here = judged.filter(
    (each) => each.finding.kind === 'dip' && each.finding.levelDb <= -WORTH_DB && isOf(each),
  );
  const counts = (own: boolean) =>
    (['equalize', 'leave', 'move'] as const)
      .map((verdict) => here.filter((each) => each.own === own && each.finding.verdict === verdict).length)
      .join(' / ');
  console.log(`  ${name.padEnd(24)}${counts(true).padEnd(16)}${counts(false)}`);
}

function bins(calls: readonly Judged[], isTrue: (each: Judged) => boolean): string {
  return EDGES.slice(0, -1)
    .flatMap((from, k) => {
      const here = calls.filter(
        ({ finding }) => finding.confidence >= from && finding.confidence < EDGES[k + 1]!,
      );
      if (here.length === 0) return [];
      const said = here.reduce((sum, { finding }) => sum + finding.confidence, 0) / here.length;
      const right = here.filter(isTrue).length / here.length;
      return [`${(100 * said).toFixed(0)} → ${(100 * right).toFixed(0)} (${here.length})`];
    })
    .join('  ');
}
