// Table of what fits of K bands leave of curves made of minus K bands:
//   npx tsx test/evaluate/recovery.ts [cases per K] [first case]
import { design } from '../../src/design.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import { DEFAULT_LIMITS } from '../../src/pipeline/designRequest.js';
import { recoveryCase } from './recoveryCases.js';
import { fitRecovery } from './recoveryFit.js';

const count = Math.max(1, Number(process.argv[2] ?? 10));
const first = Number(process.argv[3] ?? 1);

/** The same curve as a measurement through the whole pipeline, where smoothing and diagnosis have their say. */
function wholePipeline(bank: ReturnType<typeof recoveryCase>) {
  const frequencyHz = Float64Array.from({ length: 2000 }, (_, i) => 20 * 1000 ** (i / 1999));
  const levelDb = bankResponseDb(bank, 48000, frequencyHz).map((db) => 80 - db);
  return design({
    title: 'simulated',
    measurements: [
      { fileName: 'simulated.txt', curve: { frequencyHz, levelDb }, comments: [], rows: 2000, warnings: [] },
    ],
    target: {},
    ...DEFAULT_LIMITS,
    bands: bank.length,
    maxBoostDb: 24,
    maxCutDb: 24,
    maxLevelLossDb: 12,
    fromHz: 20,
    toHz: 20000,
  });
}

const quantile = (sorted: readonly number[], share: number) =>
  sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!;
const db = (value: number) => value.toFixed(4).padStart(9);

interface Outcome {
  readonly rmsDb: number;
  /** The diagnosis took a band's dip for a cancellation and protected it. */
  readonly protects: boolean;
}
const METHODS: readonly (readonly [string, (bank: ReturnType<typeof recoveryCase>) => Outcome])[] = [
  ['fit', (bank) => ({ rmsDb: fitRecovery(bank).rmsDb, protects: false })],
  [
    'pipeline',
    (bank) => {
      const { error, zones } = wholePipeline(bank);
      return { rmsDb: error.afterRmsDb, protects: zones.length > 0 };
    },
  ],
];

console.log(`${count} cases for each number of bands; what remains in dB RMS, outside protected zones.`);
console.log('Goal: at most 0.05 dB in nine of ten, at most 0.3 dB in all.');
console.log('         bands   median     90 %    worst  ≤ 0.05  ≤ 0.3  with zones  ms/fit');
const misses: string[] = [];
for (const [name, remains] of METHODS) {
  for (const bands of [3, 5, 7, 10]) {
    const start = performance.now();
    const outcomes = Array.from({ length: count }, (_, i) => remains(recoveryCase(bands, first + i)));
    const ms = (performance.now() - start) / count;
    outcomes.forEach(({ rmsDb }, i) => {
      if (rmsDb > 0.05) misses.push(`${name}, ${bands} bands, case ${first + i}: ${rmsDb.toFixed(4)} dB`);
    });
    const left = outcomes.map(({ rmsDb }) => rmsDb).sort((a, b) => a - b);
    const within = (limit: number) => String(left.filter((rms) => rms <= limit).length).padStart(7);
    const zoned = outcomes.filter(({ protects }) => protects).length;
    console.log(
      `${name.padEnd(10)}${String(bands).padStart(4)}${db(quantile(left, 0.5))}${db(quantile(left, 0.9))}` +
        `${db(left.at(-1)!)} ${within(0.05)}${within(0.3)}${String(zoned).padStart(12)}${ms.toFixed(0).padStart(8)}`,
    );
  }
}
console.log(`\nAbove 0.05 dB:\n${misses.join('\n') || 'none'}`);
