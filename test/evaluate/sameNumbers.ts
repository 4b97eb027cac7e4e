import { type Design, type DesignRequest, design } from '../../src/index.js';
import { launchChromium } from '../browser/chromium.js';
import { designedBy, otherNodes, versionOf } from '../browser/otherNodes.js';
import { bundled, pageWith } from '../browser/partsPage.js';
import { apart, demo, packed, simulated } from '../browser/sameNumbersCases.js';

// tsx test/evaluate/sameNumbers.ts [simulated cases] [first seed]: the demo and simulated speakers at the default effort, designed
// here, in the browser and by the other versions of Node that there are.

const [count = 40, first = 1] = process.argv.slice(2).map(Number);
const requests: [string, DesignRequest][] = [
  ['demo', demo()],
  ...Array.from({ length: count }, (_, i): [string, DesignRequest] => [
    `speaker ${first + i}`,
    simulated(first + i, 'normal', 3 + ((first + i) % 8)),
  ]),
];
const script = await bundled('./sameNumbersEntry.ts', 'sameNumbers');
const browser = await launchChromium();
const page = await pageWith(browser, script);
const makers: [string, (request: DesignRequest) => Design | Promise<Design>][] = [
  [
    `Chromium ${browser.version()}`,
    (request) =>
      page.evaluate((text) => {
        const read = JSON.parse(text, (_, each) => (each?.packed ? Float64Array.from(each.packed) : each));
        return window.sameNumbers.designs([read])[0]!;
      }, packed(request)),
  ],
  ...otherNodes().map((node): [string, (request: DesignRequest) => Design] => [
    `Node ${versionOf(node)}`,
    (request) => designedBy(node, script, [request])[0]!,
  ]),
];
const worst = new Map(makers.map(([name]) => [name, { same: 0, 'largest difference': 0 }]));
let faults = 0;
for (const [name, request] of requests) {
  const here = design(request);
  for (const [maker, designed] of makers) {
    try {
      const difference = apart(here, await designed(request), name);
      const entry = worst.get(maker)!;
      entry['largest difference'] = Math.max(entry['largest difference'], difference);
      if (difference <= 1e-9) entry.same++;
      else faults++;
      if (difference > 1e-9) console.log(`${name}, ${maker}: ${difference}`);
    } catch (error) {
      faults++;
      console.log(`${maker}: ${(error as Error).message}`);
    }
  }
}
await browser.close();
console.log(
  `${requests.length} designs of Node ${process.version} against others (1e-9 in every number, same words):`,
);
console.table(Object.fromEntries(worst));
process.exitCode = faults === 0 ? 0 : 1;
