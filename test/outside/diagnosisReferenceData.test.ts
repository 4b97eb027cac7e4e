import { describe, expect, it } from 'vitest';
import type { Setup } from '../../src/acoustics/setup.js';
import { analyseImpulse } from '../../src/impulse/analyseImpulse.js';
import { diagnosisReport } from '../../src/pipeline/diagnosisReport.js';
import { missing, referenceImpulse, referenceJson } from './impulseReferenceData.js';

// dEchorate data set, Di Carlo et al., EURASIP J. Audio Speech Music Process., 2021 (licence MIT).
const room = missing('room-impulses');
// (c) 1994 MIT Media Laboratory, Bill Gardner and Keith Martin, "HRTF Measurements of a KEMAR Dummy-Head Microphone".
const anechoic = missing('anechoic-loudspeaker');
for (const reason of [room, anechoic]) if (reason) console.log(reason);

interface Geometry {
  readonly roomM: readonly [number, number, number];
  readonly sourceM: readonly [number, number, number];
  readonly temperatureC: number;
  readonly microphones: Readonly<Record<string, { readonly positionM: readonly [number, number, number] }>>;
}

/** The surfaces whose annotations agree with the geometry, and the far wall. */
function setupOf({ roomM, sourceM, temperatureC, microphones }: Geometry, microphone: string): Setup {
  const { positionM } = microphones[microphone]!;
  const at = (m: number) => ({ m, toleranceM: 0 });
  const surface = (name: string, axis: 0 | 1 | 2, high: boolean) => ({
    name,
    speakerDistance: at(high ? roomM[axis] - sourceM[axis] : sourceM[axis]),
    microphoneDistance: at(high ? roomM[axis] - positionM[axis] : positionM[axis]),
  });
  return {
    temperatureC,
    microphoneDistance: at(Math.hypot(...sourceM.map((s, i) => s - positionM[i]!))),
    surfaces: [
      surface('ceiling', 2, true),
      surface('wall x=0', 0, false),
      surface('wall x=Lx', 0, true),
      surface('wall y=Ly', 1, true),
    ],
    lengthUnit: 'cm',
  };
}

/** What each microphone's curve shows to be for moving below 1 kHz, with the surface named for it. */
function namedSurfaces(withReflections: boolean): (string | undefined)[][] {
  const geometry = referenceJson('room-impulses/geometry.json') as Geometry;
  return Object.keys(geometry.microphones).map((microphone) => {
    const { curve, reflections } = analyseImpulse(referenceImpulse(`room-impulses/${microphone}.wav`), {
      gate: 'none',
    });
    const { findings } = diagnosisReport({
      title: microphone,
      measurements: [
        {
          fileName: microphone,
          curve,
          comments: [],
          rows: curve.frequencyHz.length,
          warnings: [],
          ...(withReflections && { reflections }),
        },
      ],
      setup: setupOf(geometry, microphone),
    });
    return findings
      .filter(({ verdict, frequencyHz }) => verdict === 'move' && frequencyHz < 1000)
      .map(({ cause }) => cause.surface);
  });
}

describe.skipIf(room)('cancellations in a room of known geometry', () => {
  it.each([
    ['as impulse responses', true, { ceiling: 5, 'wall x=0': 4, 'wall y=Ly': 2 }],
    ['as curves alone', false, { ceiling: 4, 'wall x=0': 3, 'wall y=Ly': 3 }],
  ] as const)(
    'are attributed to the ceiling and the trusted walls at many microphones, %s',
    (_, withReflections, least) => {
      const named = namedSurfaces(withReflections);
      const all = named.flat();
      expect(named).toHaveLength(8);
      expect(all.filter((name) => name !== undefined).length / all.length).toBeGreaterThan(0.8);
      for (const [name, count] of Object.entries(least))
        expect(named.filter((names) => names.includes(name)).length, name).toBeGreaterThanOrEqual(count);
    },
  );
});

describe.skipIf(anechoic)('a real loudspeaker without a room', () => {
  it.each([undefined, '3 ms'])('has nothing that moving would mend, gate %s', (gate) => {
    const { curve, reflections } = analyseImpulse(referenceImpulse('anechoic-loudspeaker/impulse.wav'), {
      gate: gate === undefined ? 'none' : { afterS: 0.003 },
    });
    const { findings } = diagnosisReport({
      title: 'anechoic',
      measurements: [
        {
          fileName: 'impulse.wav',
          curve,
          comments: [],
          rows: curve.frequencyHz.length,
          warnings: [],
          reflections,
        },
      ],
    });
    expect(findings.length).toBeGreaterThan(2);
    expect(findings.filter(({ verdict }) => verdict === 'move')).toEqual([]);
  });
});
