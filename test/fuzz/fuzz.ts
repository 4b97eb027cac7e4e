import { seededRandom } from '../../src/fit/seededRandom.js';
import { loadUnitEngine } from '../../src/units/unitEngine.js';
import { hostileBytes } from './hostileBytes.js';
import { judgeReading } from './judgeReading.js';
import { readers } from './readers.js';

// npm run fuzz -- [count] [first seed]: each case has a seed of its own, so that one can be run again alone.

const [count = 1_000_000, firstSeed = 1] = process.argv.slice(2).map(Number);
/** Of processor time, since a busy machine makes any case slow. */
const SLOW_MS = 2000;
const MAX_FAULTS = 20;
const tally = new Map(readers.map(({ name }) => [name, { read: 0, refused: 0 }]));
await loadUnitEngine();
const start = performance.now();
let faults = 0;
let done = 0;
for (; done < count && faults < MAX_FAULTS; done++) {
  const seed = firstSeed + done;
  const reader = readers[seed % readers.length]!;
  const bytes = hostileBytes(reader, seededRandom(seed));
  const began = process.cpuUsage();
  const { did, fault } = judgeReading(reader, bytes);
  tally.get(reader.name)![did]++;
  const { user, system } = process.cpuUsage(began);
  const ms = (user + system) / 1000;
  const problem = fault ?? (ms > SLOW_MS ? `it took ${Math.round(ms)} ms` : undefined);
  if (problem === undefined) continue;
  faults++;
  console.log(
    `seed ${seed}, ${reader.name}, ${bytes.length} bytes: ${problem.split('\n').slice(0, 4).join('\n  ')}`,
  );
}
const seconds = (performance.now() - start) / 1000;
console.table(Object.fromEntries(tally));
console.log(
  `${done} cases from seed ${firstSeed} in ${seconds.toFixed(1)} s (${Math.round(done / seconds)} a second), ${faults} faults` +
    (faults === MAX_FAULTS ? '; stopped there' : ''),
);
process.exitCode = faults === 0 ? 0 : 1;
