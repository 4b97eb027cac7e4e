import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { readDesignRequest } from '../../cli/readRequest.js';
import { randomScenario } from '../../fixtures/simulate/randomScenario.js';
import { simulate } from '../../fixtures/simulate/simulate.js';
import { shippedDevices } from '../../src/device/profile/shippedDevices.js';
import type { EffortName } from '../../src/fit/effort.js';
import { seededRandom } from '../../src/fit/seededRandom.js';
import type { DesignRequest } from '../../src/index.js';
import { measurementOf, requestOf } from '../pipeline/samples.js';
import { type Answer, type Job, packed } from './sameNumbersEntry.js';

type SameNumbers = typeof import('./sameNumbersEntry.js');
declare global {
  interface Window {
    sameNumbers: SameNumbers;
  }
}

/** @param page that holds the bundle of `sameNumbersEntry.ts` under the name `sameNumbers` */
export async function answeredIn(page: Page, jobs: readonly Job[]): Promise<Answer[]> {
  return JSON.parse(await page.evaluate((text) => window.sameNumbers.answered(text), packed(jobs)));
}

const demoFile = (name: string) => fileURLToPath(new URL(`../../fixtures/demo/${name}`, import.meta.url));
export const demo = (): DesignRequest =>
  readDesignRequest(
    [1, 2, 3, 4].map((n) => demoFile(`position-${n}.txt`)),
    { setup: demoFile('setup.json'), moved: ['moved-4-cm.txt', 'moved.txt'].map(demoFile) },
  );

/** Simulated; one in three for a device, one in two in a whole room, one in two with phase. */
export const simulated = (seed: number, effort: EffortName = 'quick', bands = 4): DesignRequest => {
  const surroundings = seed % 2 === 0 ? 'few' : 'room';
  const scenario = randomScenario(seededRandom(200 + seed), { surroundings, withPhase: seed % 4 < 2 });
  const { curve, setup } = simulate(scenario);
  const device = seed % 3 === 0 ? shippedDevices[0] : undefined;
  return requestOf(measurementOf(curve), { setup, bands, effort, ...(device && { device }) });
};

/**
 * The greatest difference between two numbers at the same place; everything else has to be equal.
 *
 * @throws Error naming the first place that differs in anything but a number
 */
export function apart(a: unknown, b: unknown, place = 'design'): number {
  if (typeof a === 'number' && typeof b === 'number') return Math.abs(a - b);
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) {
    if (a !== b) throw new Error(`${place} is ${JSON.stringify(a)} here and ${JSON.stringify(b)} there`);
    return 0;
  }
  const [here, there] = [a, b].map((each) => Object.keys(each).join());
  if (here !== there) throw new Error(`${place} holds ${here} here and ${there} there`);
  return Object.entries(a).reduce(
    (most, [key, each]) =>
      Math.max(most, apart(each, (b as Record<string, unknown>)[key], `${place}.${key}`)),
    0,
  );
}
