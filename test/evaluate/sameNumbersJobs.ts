import { seededRandom } from '../../fixtures/simulate/seededRandom.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { DesignRequest } from '../../src/index.js';
import { demo, simulated } from '../browser/sameNumbersCases.js';
import type { Job } from '../browser/sameNumbersEntry.js';
import { measurementOf, requestOf } from '../pipeline/samples.js';
import { randomRequest } from './brokenPromises.js';
import type { EvaluationCase } from './evaluationCase.js';
import { faultKinds, faultyCase, installation } from './faultyInstallations.js';
import { optimumCases } from './optimumCases.js';
import { pathRoom } from './pathRooms.js';
import { recoveryCase } from './recoveryCases.js';
import { bandsOfSeed, steppedDevice } from './roundingCases.js';
import { fullyMeasuredRoom, simulatedRoom } from './simulatedRooms.js';
import { whatIfCase } from './whatIfCases.js';

type Named = readonly [name: string, job: Job];

const designs = (requests: readonly (readonly [string, DesignRequest])[]): Named[] =>
  requests.map(([name, request]) => [name, { design: request }]);

const seeds = (count: number, first: number) => Array.from({ length: count }, (_, i) => first + i);

/** Jobs of every kind that the evaluations look at, `count` of each family from seed `first` on; the demo in all its forms. */
export function sameNumbersJobs(count: number, first: number): Named[] {
  const some = seeds(count, first);
  return [
    ...demos(),
    ...designs(some.map((seed) => [`speaker ${seed}`, simulated(seed, 'normal', 3 + (seed % 8))])),
    ...designs(some.map((seed) => [`promises ${seed}`, randomRequest(seed, 'normal')])),
    ...some.flatMap(recoveries),
    ...some.flatMap(rounded),
    ...some.flatMap(diagnosed),
    ...optima(),
    ...some.flatMap(predicted),
    ...some.flatMap(verified),
  ];
}

function demos(): Named[] {
  const request = demo();
  const { moved, setup, ...bare } = request;
  return designs([
    ['demo', request],
    ['demo, error by bands', { ...request, againstBands: true }],
    ['demo, worst position', { ...request, aim: 'worst' }],
    ['demo, thorough', { ...request, effort: 'thorough' }],
    ['demo, curves alone', bare],
    ['demo on a grid', { ...request, device: steppedDevice(8) }],
    ...request.measurements.map((measurement, i): [string, DesignRequest] => [
      `demo, position ${i + 1}`,
      { ...request, measurements: [measurement] },
    ]),
  ]);
}

function recoveries(seed: number): Named[] {
  const frequencyHz = Float64Array.from({ length: 2000 }, (_, i) => 20 * 1000 ** (i / 1999));
  const wide = { maxBoostDb: 24, maxCutDb: 24, maxLevelLossDb: 12, fromHz: 20, toHz: 20000 };
  return designs(
    [3, 5, 7, 10].map((bands) => {
      const levelDb = bankResponseDb(recoveryCase(bands, seed), 48000, frequencyHz).map((db) => 80 - db);
      return [
        `recovery ${bands}/${seed}`,
        requestOf(measurementOf({ frequencyHz, levelDb }), { ...wide, bands }),
      ];
    }),
  );
}

function rounded(seed: number): Named[] {
  const { input } = simulatedRoom(820000 + seed, { surroundings: seed % 2 === 0 ? 'few' : 'room' });
  const bands = bandsOfSeed(seed);
  return designs([
    [`rounding ${seed}`, requestOf(measurementOf(input.curve), { bands, device: steppedDevice(bands) })],
  ]);
}

function diagnosed(seed: number): Named[] {
  const at = 160000 + seed;
  const families: [string, EvaluationCase][] = [
    ['few surfaces', simulatedRoom(at, { surroundings: 'few', tapeErrorPercent: 4 })],
    ['whole room', simulatedRoom(at + 50000, { surroundings: 'room', tapeErrorPercent: 4 })],
    ['random paths', pathRoom(at, { geometryError: 0.03, geometryBias: 0, surfaces: 'random' })],
    [
      'geometry off',
      simulatedRoom(at + 90000, { surroundings: 'few', tapeErrorPercent: 20, tapeErrorFull: true }),
    ],
    ['anechoic', simulatedRoom(at + 120000, { placement: 'anechoic' })],
    ['no paths', pathRoom(at, { geometryError: 0, geometryBias: 0, surfaces: 'none' })],
    ['fully measured', fullyMeasuredRoom(at + 200000, { surroundings: seed % 2 === 0 ? 'few' : 'room' })],
  ];
  return designs(
    families.map(([name, { input }]) => [
      `${name} ${at}`,
      requestOf(measurementOf(input.curve), {
        ...(input.setup && { setup: input.setup }),
        ...(input.moved && { moved: input.moved.map((curve) => measurementOf(curve, 'moved.txt')) }),
        effort: 'quick',
      }),
    ]),
  );
}

/** Always the same 48. */
function optima(): Named[] {
  return designs(
    optimumCases().map(({ id, bands, problem: { frequencyHz, deviationDb } }) => [
      id,
      requestOf(measurementOf({ frequencyHz, levelDb: deviationDb.map((db) => 80 + db) }), { bands }),
    ]),
  );
}

function predicted(seed: number): Named[] {
  const { curve, setup } = whatIfCase(300000 + seed, { surroundings: seed % 2 === 0 ? 'few' : 'room' });
  const { name, speakerDistance } = setup.surfaces.find((each) => each.name === 'wall behind')!;
  const { m } = speakerDistance;
  const span = { surface: name, fromM: 0.9 * m, toM: 1.2 * m, stepM: 0.15 * m };
  const request = { title: 'simulated', setup, varied: [span], microphone: 'along' as const };
  const measured = requestOf(measurementOf(curve), { setup, bands: 3, effort: 'quick' });
  return [
    [`geometry ${seed}`, { predict: request }],
    [`moved ${seed}`, { predict: { ...request, measured } }],
  ];
}

function verified(seed: number): Named[] {
  const room = installation(9000 + seed);
  if (room.design.filters.length === 0) return [];
  const random = seededRandom(seed);
  return (['none', ...faultKinds] as const).map((kind) => [
    `${kind} ${seed}`,
    { verify: { design: room.design, after: faultyCase(room, kind, random).after } },
  ]);
}
