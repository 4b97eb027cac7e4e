import { EFFORT_NAMES, type EffortName } from '../../src/fit/effort.js';
import { brokenPromises, randomRequest } from './brokenPromises.js';

// tsx test/evaluate/promises.ts [count] [first seed] [effort]: what must hold of every design, on random speakers in random rooms.

const [count = 100, first = 1] = process.argv.slice(2, 4).map(Number);
const effort: EffortName = EFFORT_NAMES.find((name) => name === process.argv[4]) ?? 'normal';
let faulty = 0;
for (let seed = first; seed < first + count; seed++) {
  const broken = brokenPromises(randomRequest(seed, effort));
  if (broken.length === 0) continue;
  faulty++;
  console.log(`seed ${seed}: ${broken.join('; ')}`);
}
console.log(`${count} requests from seed ${first}, effort ${effort}: ${faulty} with a broken promise`);
process.exitCode = faulty === 0 ? 0 : 1;
