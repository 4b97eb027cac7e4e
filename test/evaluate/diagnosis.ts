import { diagnose } from '../../src/diagnosis/diagnose.js';
import type { DiagnosisInput } from '../../src/diagnosis/diagnosisInput.js';
import type { EvaluationCase } from './evaluationCase.js';
import { pathRoom } from './pathRooms.js';
import { addScore, emptyScore, type Score } from './score.js';
import { simulatedRoom } from './simulatedRooms.js';

const count = Number(process.argv[2] ?? 60);
const firstSeed = Number(process.argv[3] ?? 1);

const families: readonly (readonly [string, (seed: number) => EvaluationCase])[] = [
  ['few surfaces', (s) => simulatedRoom(s, { surroundings: 'few', tapeErrorPercent: 4 })],
  ['whole room', (s) => simulatedRoom(s + 50000, { surroundings: 'room', tapeErrorPercent: 4 })],
  ['random paths', (s) => pathRoom(s, { geometryError: 0.03, geometryBias: 0, surfaces: 'random' })],
  [
    'geometry 20 % off',
    (s) => simulatedRoom(s + 90000, { surroundings: 'few', tapeErrorPercent: 20, tapeErrorFull: true }),
  ],
  ['anechoic', (s) => simulatedRoom(s + 120000, { placement: 'anechoic' })],
  ['random paths, none', (s) => pathRoom(s, { geometryError: 0, geometryBias: 0, surfaces: 'none' })],
];

const methods: readonly (readonly [string, (input: DiagnosisInput) => DiagnosisInput])[] = [
  ['geometry', (input) => input],
  ['curve alone', ({ setup: _, ...rest }) => rest],
];

const percent = (part: number, of: number) =>
  of === 0 ? '    -' : `${((100 * part) / of).toFixed(1).padStart(5)}`;
let total = 0;
let spent = 0;
for (const [family, make] of families) {
  const scores = methods.map((): Score => emptyScore());
  for (let s = firstSeed; s < firstSeed + count; s++) {
    const sample = make(s);
    methods.forEach(([, restrict], m) => {
      const start = performance.now();
      const { findings } = diagnose(restrict(sample.input));
      spent += performance.now() - start;
      total++;
      addScore(scores[m]!, sample, findings);
    });
  }
  methods.forEach(([method], m) => {
    const s = scores[m]!;
    console.log(
      `${family.padEnd(20)} ${method.padEnd(12)} recall ${percent(s.deepFound, s.deep)} (${s.deep}) surface ${percent(s.deepRightSurface, s.deepFound)} main ${percent(s.deepMainSurface, s.deepFound)}` +
        ` precision ${percent(s.movesTrue, s.moves)} strict ${percent(s.movesTrueStrict, s.moves)} (${s.moves}) own→move ${percent(s.ownMoved, s.own)} (${s.own}) own dips ${percent(s.ownDeepMoved, s.ownDeep)}`,
    );
  });
}
console.log(`${(spent / total).toFixed(1)} ms a diagnosis`);
