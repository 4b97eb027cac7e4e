import { randomScenario } from '../../fixtures/simulate/randomScenario.js';
import { seededRandom } from '../../fixtures/simulate/seededRandom.js';
import { simulateCurve } from '../../fixtures/simulate/simulate.js';
import { sliceCurve } from '../../src/curve/sliceCurve.js';
import { smoothOctave } from '../../src/curve/smoothOctave.js';
import type { DeviceProfile } from '../../src/device/profile/deviceProfile.js';
import { buildProblem } from '../../src/fit/problem/buildProblem.js';
import type { FitProblem } from '../../src/fit/problem/fitProblem.js';
import { DEFAULT_LIMITS, type DesignRequest } from '../../src/pipeline/designRequest.js';
import { diagnoseMeasurements } from '../../src/pipeline/diagnoseMeasurements.js';
import { fitLimits } from '../../src/pipeline/fitLimits.js';
import { zonesForFit } from '../../src/pipeline/zonesForFit.js';
import { targetShapeDb } from '../../src/target/targetShapeDb.js';

export const sampleRateHz = 48000;

/** Gains in steps of 0.5 dB, third-octave frequencies, Q in steps of 0.1; any band may be any type. */
export const steppedDevice = (bands: number): DeviceProfile => ({
  name: 'third octaves, 0.5 dB, Q 0.1',
  sampleRatesHz: [sampleRateHz],
  bands: [{ types: ['peaking', 'lowShelf', 'highShelf'], count: bands }],
  gainDb: { min: -12, max: 6, step: 0.5 },
  frequencyHz: { min: 20, max: 20000, perOctave: 3 },
  q: { min: 0.4, max: 10, step: 0.1 },
  qConvention: 'cookbook',
});

/** 5 to 10 bands, by the seed. */
export const bandsOfSeed = (seed: number): number => 5 + (seed % 6);

/** A simulated speaker in a simulated room. */
export function roundingRequest(seed: number): DesignRequest {
  const scenario = randomScenario(seededRandom(seed), { withPhase: false });
  const curve = simulateCurve(scenario);
  return {
    title: scenario.name,
    measurements: [
      { fileName: 'room.txt', curve, comments: [], rows: curve.frequencyHz.length, warnings: [] },
    ],
    target: { bassShelfFrequencyHz: 120 },
    ...DEFAULT_LIMITS,
  };
}

/** The same with the range, zones and limits that `nullwise fit` would give it. */
export function roundingProblem(seed: number, device: DeviceProfile, bands: number): FitProblem {
  const request: DesignRequest = { ...roundingRequest(seed), bands, device };
  const diagnosed = diagnoseMeasurements(request, sampleRateHz);
  const { range, boostFromHz, diagnosis, prepared } = diagnosed;
  const inRange = sliceCurve(smoothOctave(prepared.curve, request.smoothingOctaves), range);
  const shapeDb = targetShapeDb(request.target, inRange.frequencyHz);
  return buildProblem({
    sampleRateHz,
    frequencyHz: inRange.frequencyHz,
    deviationDb: inRange.levelDb.map((db, i) => db - shapeDb[i]!),
    zones: zonesForFit(diagnosis.zones),
    ...(boostFromHz !== undefined && { boostFromHz }),
    limits: fitLimits(request, range, diagnosed),
  });
}
