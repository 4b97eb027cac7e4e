/**
 * Dips that are left to the equalizer: how often they are the speaker's own, and how sure of that the diagnosis was.
 * A dip is the speaker's where its direct sound alone has at least half of it.
 * Run: npx tsx test/evaluate/ownDips.ts [cases a family] [first seed] [designs a family]
 */

import { diagnose } from '../../src/diagnosis/diagnose.js';
import { design } from '../../src/index.js';
import { measurementOf, requestOf } from '../pipeline/samples.js';
import { type Call, isSpeakers, percent, WORTH_DB } from './dipCalls.js';
import type { EvaluationCase } from './evaluationCase.js';
import { type LateEchoesCase, lateEchoes } from './lateEchoes.js';
import { depthIn, ownShareOf } from './ownShare.js';
import { pathRoom } from './pathRooms.js';
import { fullyMeasuredRoom, simulatedRoom } from './simulatedRooms.js';
import { all, alone, geometry, type Method } from './whatIsKnown.js';

const count = Number(process.argv[2] ?? 24);
const firstSeed = Number(process.argv[3] ?? 100000);
const designs = Number(process.argv[4] ?? 0);

interface Family {
  readonly name: string;
  readonly make: (seed: number) => EvaluationCase & Partial<LateEchoesCase>;
  readonly methods: readonly Method[];
}

const both = [geometry, alone];
const families: readonly Family[] = [
  { name: 'late echoes, level', make: (s) => lateEchoes(s, 'level'), methods: [alone] },
  {
    name: 'late echoes, impulse',
    make: (s) => lateEchoes(s + 20000, 'impulse'),
    methods: [all],
  },
  {
    name: 'few surfaces',
    make: (s) => simulatedRoom(s, { surroundings: 'few', tapeErrorPercent: 4 }),
    methods: both,
  },
  {
    name: 'whole room',
    make: (s) => simulatedRoom(s + 50000, { surroundings: 'room', tapeErrorPercent: 4 }),
    methods: both,
  },
  {
    name: 'random paths',
    make: (s) => pathRoom(s, { geometryError: 0.03, geometryBias: 0, surfaces: 'random' }),
    methods: both,
  },
  {
    name: 'fully measured',
    make: (s) =>
      fullyMeasuredRoom(s + 200000, { surroundings: s % 2 === 0 ? 'few' : 'room', tapeErrorPercent: 4 }),
    methods: [all],
  },
  {
    name: 'anechoic',
    make: (s) => simulatedRoom(s + 120000, { placement: 'anechoic' }),
    methods: [alone],
  },
  {
    name: 'speaker, no paths',
    make: (s) => pathRoom(s, { geometryError: 0, geometryBias: 0, surfaces: 'none' }),
    methods: [alone],
  },
];

/** Broader than this a dip is heard as a colour of the sound. */
const BROAD_OCTAVES = 1 / 3;
/** A dip is filled where the EQ boosts there by this much and stands as high above its flanks. */
const FILLED_DB = 1;

const isEqualized = ({ finding }: Call) => finding.verdict === 'equalize';

console.log(
  'wrong: of dips called "equalize", % that are not the speaker\'s own; sure: of dips called the speaker\'s with 95 % or more,\n' +
    '% that are; not own / own broad / own narrow: % of these (1.2 dB or more) that are called "equalize". In brackets: of how many.\n',
);
const pooled = new Map<string, Call[]>();
for (const { name, make, methods } of families) {
  const calls = methods.map((): Call[] => []);
  const filled = { wrong: 0, right: 0 };
  for (let s = firstSeed; s < firstSeed + count; s++) {
    const sample = make(s);
    const share = ownShareOf(sample);
    methods.forEach(([, restrict], m) => {
      for (const finding of diagnose(restrict(sample.input)).findings)
        if (finding.kind === 'dip') calls[m]!.push({ own: share(finding) >= 0.5, finding });
    });
    if (s - firstSeed < designs) countFilled(sample, filled);
  }
  methods.forEach(([method], m) => {
    const here = calls[m]!;
    pooled.set(method, [...(pooled.get(method) ?? []), ...here]);
    const worth = here.filter(({ finding }) => finding.levelDb <= -WORTH_DB);
    const broad = ({ finding }: Call) => finding.widthOctaves >= BROAD_OCTAVES;
    const sure = here.filter((c) => isSpeakers(c) && c.finding.confidence >= 0.95);
    console.log(
      `${name.padEnd(21)} ${method.padEnd(17)} wrong ${percent(here.filter(isEqualized), (c) => !c.own)}` +
        `  sure ${percent(sure, (c) => c.own)}` +
        `  not own ${percent(
          worth.filter((c) => !c.own),
          isEqualized,
        )}` +
        `  own broad ${percent(
          worth.filter((c) => c.own && broad(c)),
          isEqualized,
        )}` +
        `  own narrow ${percent(
          worth.filter((c) => c.own && !broad(c)),
          isEqualized,
        )}`,
    );
  });
  if (designs > 0)
    console.log(
      `${''.padEnd(21)} ${designs} designs fill by ${FILLED_DB} dB or more: ${filled.wrong} dips that are not the speaker's own, ${filled.right} that are`,
    );
}

const EDGES = [0.6, 0.7, 0.8, 0.9, 0.95, 0.98, 1.01];
for (const [method, calls] of pooled) {
  console.log(`\nconfidence of "the speaker", ${method}`);
  EDGES.slice(0, -1).forEach((from, k) => {
    const here = calls.filter(
      (c) => isSpeakers(c) && c.finding.confidence >= from && c.finding.confidence < EDGES[k + 1]!,
    );
    if (here.length === 0) return;
    const said = here.reduce((sum, { finding }) => sum + finding.confidence, 0) / here.length;
    console.log(
      `  from ${from.toFixed(2)}: said ${(100 * said).toFixed(0)} %, right ${percent(here, (c) => c.own)}`,
    );
  });
}

function countFilled(
  sample: EvaluationCase & Partial<LateEchoesCase>,
  filled: { wrong: number; right: number },
) {
  const { curve, setup } = sample.input;
  const measurement = sample.measurement ?? measurementOf(curve);
  const made = design(requestOf(measurement, { bands: 10, effort: 'quick', ...(setup && { setup }) }));
  const { frequencyHz, eqDb } = made.curves;
  const share = ownShareOf(sample);
  const eqDepth = depthIn(Float64Array.from(frequencyHz), Float64Array.from(eqDb));
  for (const finding of made.findings) {
    const boostDb = eqDb[frequencyHz.findIndex((f) => f >= finding.frequencyHz)] ?? 0;
    if (finding.kind !== 'dip' || -eqDepth(finding) < FILLED_DB || boostDb < FILLED_DB) continue;
    if (share(finding) >= 0.5) filled.right++;
    else filled.wrong++;
  }
}
