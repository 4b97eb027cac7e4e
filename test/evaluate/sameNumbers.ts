import { launchChromium } from '../browser/chromium.js';
import { answeredBy, otherNodes, versionOf } from '../browser/otherNodes.js';
import { bundled, pageWith } from '../browser/partsPage.js';
import { answeredIn, apart } from '../browser/sameNumbersCases.js';
import { type Answer, answered, type Job, packed } from '../browser/sameNumbersEntry.js';
import { sameNumbersJobs } from './sameNumbersJobs.js';

// tsx test/evaluate/sameNumbers.ts [cases of each family] [first seed]: the demo and the cases of every evaluation, designed,
// predicted and verified here, once more here, in the browser and by the other versions of Node that there are.

const [count = 3, first = 1] = process.argv.slice(2).map(Number);
const jobs = sameNumbersJobs(count, first);
const script = await bundled('./sameNumbersEntry.ts', 'sameNumbers');
const browser = await launchChromium();
const page = await pageWith(browser, script);
const makers: [string, (job: Job) => Promise<Answer[]> | Answer[]][] = [
  [`Chromium ${browser.version()}`, (job) => answeredIn(page, [job])],
  ...otherNodes().map((node): [string, (job: Job) => Answer[]] => [
    `Node ${versionOf(node)}`,
    (job) => answeredBy(node, script, [job]),
  ]),
];
const results = new Map(makers.map(([name]) => [name, { same: 0, 'largest difference': 0 }]));
let faults = 0;
const fault = (words: string) => {
  faults++;
  console.log(words);
};
for (const [name, job] of jobs) {
  const text = answered(packed([job]));
  if (answered(packed([job])) !== text) fault(`${name}: not the same bytes when reckoned again`);
  const here: unknown = JSON.parse(text);
  for (const [maker, make] of makers) {
    try {
      const difference = apart(here, await make(job), name);
      const result = results.get(maker)!;
      result['largest difference'] = Math.max(result['largest difference'], difference);
      if (difference <= 1e-9) result.same++;
      else fault(`${name}, ${maker}: ${difference}`);
    } catch (error) {
      fault(`${maker}: ${(error as Error).message}`);
    }
  }
}
await browser.close();
console.log(
  `${jobs.length} jobs of Node ${process.version} against others (1e-9 in every number, same words):`,
);
console.table(Object.fromEntries(results));
process.exitCode = faults === 0 ? 0 : 1;
