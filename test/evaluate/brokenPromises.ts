import { randomScenario } from '../../fixtures/simulate/randomScenario.js';
import { simulate } from '../../fixtures/simulate/simulate.js';
import { shippedDevices } from '../../src/device/profile/shippedDevices.js';
import type { EffortName } from '../../src/fit/effort.js';
import { seededRandom } from '../../src/fit/seededRandom.js';
import { type DesignRequest, design } from '../../src/index.js';
import { diagnoseMeasurements } from '../../src/pipeline/diagnoseMeasurements.js';
import { type Design, designSchema } from '../../src/schema/design.js';
import { cookbookLevelDb, denseHz } from '../fit/independentCheck.js';
import { measurementOf, requestOf } from '../pipeline/samples.js';

/** What the search may miss by: it is no exhaustive one. */
const SHARE = 1.01;
const ROUNDING_DB = 0.005;
const NOISE_DB = 1e-6;

/** A random speaker in random surroundings with random limits; one in five for a device. */
export function randomRequest(seed: number, effort: EffortName): DesignRequest {
  const random = seededRandom(seed);
  const { curve, setup } = simulate(randomScenario(random));
  const device = random() < 0.2 ? shippedDevices[Math.floor(random() * shippedDevices.length)] : undefined;
  return requestOf(measurementOf(curve), {
    ...(random() < 0.7 && { setup }),
    bands: 1 + Math.floor(random() * 6),
    maxBoostDb: Math.floor(random() * 8),
    maxCutDb: 3 + Math.floor(random() * 12),
    minQ: 0.3 + 0.4 * random(),
    maxQ: 2 + 8 * random(),
    sampleRateHz: [44100, 48000, 96000][Math.floor(random() * 3)]!,
    ...(random() < 0.3 && { maxLevelLossDb: 2 * random() }),
    // A device may have one Q only, which the limits then have to hold.
    ...(device && { device, maxQ: 10 }),
    effort,
  });
}

/** What the designs for a request break of what every design promises, in words. */
export function brokenPromises(request: DesignRequest): string[] {
  const diagnosed = diagnoseMeasurements(request, request.sampleRateHz);
  const made = design(request, { diagnosed });
  const broken = brokenByItself(request, made);
  // On a device the grid decides, and more bands may come out a little worse by the steps.
  if (request.device) return broken;
  const { bands, maxBoostDb, maxCutDb, maxQ } = request;
  const wider: Record<string, Partial<DesignRequest>> = {
    'two more bands': { bands: bands + 2 },
    'wider limits': { maxBoostDb: maxBoostDb + 3, maxCutDb: maxCutDb + 6, maxQ: 1.5 * maxQ },
  };
  for (const [name, options] of Object.entries(wider)) {
    const other = design({ ...request, ...options }, { diagnosed });
    if (other.error.afterRmsDb > SHARE * made.error.afterRmsDb + ROUNDING_DB) {
      broken.push(`${name}: ${other.error.afterRmsDb} dB left instead of ${made.error.afterRmsDb}`);
    }
  }
  return broken;
}

function brokenByItself(request: DesignRequest, made: Design): string[] {
  const broken: string[] = [];
  const atMost = (name: string, value: number, most: number) => {
    if (!(value <= most)) broken.push(`${name}: ${value}, expected at most ${most}`);
  };
  const { filters, sampleRateHz, inputGainDb, error, unevenness, findings } = made;
  const at = (hz: number) => cookbookLevelDb(filters, sampleRateHz, hz);
  const greatest = Math.max(0, ...denseHz(sampleRateHz, 0.1).map(at));
  if (!designSchema.safeParse(made).success) broken.push('the schema');
  atMost('bands', filters.length, request.bands);
  filters.forEach(({ gainDb, q }, i) => {
    atMost(`boost of ${i + 1}`, gainDb, request.maxBoostDb + NOISE_DB);
    atMost(`cut of ${i + 1}`, -gainDb, request.maxCutDb + NOISE_DB);
    atMost(`Q of ${i + 1}`, q, request.maxQ + NOISE_DB);
    atMost(`1/Q of ${i + 1}`, 1 / q, 1 / request.minQ + NOISE_DB);
  });
  // A limit holds on what the device really does, which its rounded coefficients bend a little at low frequencies.
  atMost('sum of boosts', greatest, request.maxBoostDb + (request.device?.coefficients ? 0.02 : NOISE_DB));
  atMost('level behind the input gain', greatest + inputGainDb, NOISE_DB);
  // Coarse steps of a device apart, no more level is given away than the boosts ask for.
  if (!request.device) atMost('input gain given away', -inputGainDb - greatest, 0.11);
  atMost('error after', error.afterRmsDb, error.beforeRmsDb + NOISE_DB);
  atMost('unevenness after', unevenness.afterRmsDb, unevenness.beforeRmsDb + ROUNDING_DB);
  for (const { kind, verdict, frequencyHz } of findings) {
    if (kind === 'dip' && verdict === 'move')
      atMost(`EQ in the dip at ${frequencyHz}`, at(frequencyHz), 0.502);
  }
  return broken;
}
