import { analyseImpulse } from '../../src/impulse/analyseImpulse.js';
import type { DesignRequest } from '../../src/index.js';
import { demo } from '../browser/sameNumbersCases.js';
import { missing, referenceImpulse } from '../outside/impulseReferenceData.js';
import { measurementOf, requestOf } from '../pipeline/samples.js';
import type { EvaluationCase } from './evaluationCase.js';
import { lateEchoes } from './lateEchoes.js';
import { roundingRequest } from './roundingCases.js';
import { simulatedRoom } from './simulatedRooms.js';

const MICROPHONES = ['01', '02', '03', '04', '07', '08', '09', '10'];

export interface OpposedFamily {
  readonly name: string;
  readonly requests: readonly DesignRequest[];
}

/** `count` requests of each family of simulated rooms, and measured rooms where they lie beside the project; the demo. */
export function opposedFamilies(count: number, firstSeed: number): OpposedFamily[] {
  const seeds = Array.from({ length: count }, (_, i) => firstSeed + i);
  const asked = (
    make: (seed: number) => EvaluationCase & { readonly measurement?: DesignRequest['measurements'][0] },
  ) =>
    seeds.map((seed) => {
      const { input, measurement } = make(seed);
      return requestOf(measurement ?? measurementOf(input.curve), {
        ...(input.setup && { setup: input.setup }),
      });
    });
  const reason = missing('room-impulses');
  if (reason) console.log(reason);
  return [
    {
      name: 'few surfaces',
      requests: asked((s) => simulatedRoom(s, { surroundings: 'few', tapeErrorPercent: 4 })),
    },
    {
      name: 'whole room',
      requests: asked((s) => simulatedRoom(s + 50000, { surroundings: 'room', tapeErrorPercent: 4 })),
    },
    { name: 'late echoes, level', requests: asked((s) => lateEchoes(s, 'level')) },
    { name: 'as for rounding', requests: seeds.map((s) => roundingRequest(s)) },
    ...(reason ? [] : [{ name: 'measured rooms', requests: MICROPHONES.map(measuredRoom) }]),
    { name: 'demo', requests: [{ ...demo(), maxShelfQ: 0.71 }] },
  ];
}

function measuredRoom(microphone: string): DesignRequest {
  const fileName = `room-impulses/mic${microphone}.wav`;
  const { curve, warnings, resolvedFromHz, trustedRange, reflections } = analyseImpulse(
    referenceImpulse(fileName),
    { gate: 'none' },
  );
  return requestOf({
    fileName,
    curve,
    comments: [],
    rows: curve.frequencyHz.length,
    warnings,
    resolvedFromHz,
    ...(trustedRange && { trusted: trustedRange }),
    reflections,
  });
}
