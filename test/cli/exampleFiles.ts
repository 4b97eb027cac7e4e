import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { demoScenario } from '../../fixtures/simulate/demoScenario.js';
import { simulateImpulse } from '../../fixtures/simulate/simulateImpulse.js';
import { simulateRecording } from '../../fixtures/simulate/simulateRecording.js';
import { design } from '../../src/design.js';
import { designJson } from '../../src/export/json/designJson.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import { sweepSignal } from '../../src/impulse/sweep/exponentialSweep.js';
import { sweepParameters } from '../../src/impulse/sweep/sweepParameters.js';
import { readMeasurement } from '../../src/measurement/readMeasurement.js';
import { writeWav } from '../../src/measurement/wavWriter.js';
import { DEFAULT_LIMITS } from '../../src/pipeline/designRequest.js';
import { sweepReport } from '../../src/pipeline/sweepReport.js';
import type { Design } from '../../src/schema/design.js';

const demo = (name: string) =>
  readFileSync(fileURLToPath(new URL(`../../fixtures/demo/${name}`, import.meta.url)), 'utf8');

const RATE = 48_000;

/** What the examples of the manual are given, by the names that they use: the demo's files and what follows from them. */
export function exampleFiles() {
  const measured = demo('position-1.txt');
  const made = design({
    title: 'simulated',
    measurements: [readMeasurement(new TextEncoder().encode(measured), 'measurement.txt')],
    target: {},
    ...DEFAULT_LIMITS,
    bands: 3,
    effort: 'quick',
  });
  const sweep = sweepParameters({ durationS: 2, sampleRateHz: RATE });
  const wav = (samples: Float64Array) =>
    writeWav({ channels: [samples], sampleRateHz: RATE, format: 'pcm24' }).bytes;
  const { samples: impulse } = simulateImpulse(demoScenario, RATE);
  return {
    /** Measurements and what is said of them: always there. */
    given: {
      'measurement.txt': measured,
      'left.txt': demo('position-2.txt'),
      'centre.txt': measured,
      'right.txt': demo('position-3.txt'),
      'here.txt': measured,
      'there.txt': demo('moved.txt'),
      'before.txt': measured,
      'after.txt': withFilters(measured, made),
      'left-after.txt': withFilters(measured, made),
      'centre-after.txt': withFilters(measured, made),
      'right-after.txt': withFilters(measured, made),
      'setup.json': demo('setup.json'),
      'microphone.txt': '20 0.5\n1000 0\n20000 -1.5\n',
    },
    /** What another command makes, or what would stand in its way: there only where an example names it. */
    made: {
      'design.json': designJson(made),
      'impulse.wav': wav(impulse.map((x) => x / 4)),
      'sweep.json': JSON.stringify(sweepReport(sweep)),
      'recording.wav': wav(simulateRecording(demoScenario, sweepSignal(sweep), RATE, { take: 1 })),
      'music.wav': wav(impulse.map((x, n) => (x + impulse[(n + 3000) % impulse.length]!) / 4)),
      'units.csv': 'job,measurement,bands,effort\nfirst,left.txt,2,quick\nsecond,right.txt,2,quick\n',
      'curves.ndjson': '{ "measurement": "left.txt" }\n{ "measurement": ["left.txt", "right.txt"] }\n',
    },
  };
}

/** The same speaker at the same place with the filters on. */
function withFilters(measured: string, { filters, sampleRateHz, inputGainDb }: Design): string {
  return measured.replace(/^([\d.]+)\t([\d.]+)\t.*$/gm, (_, hz: string, db: string) => {
    const eqDb = bankResponseDb(filters, sampleRateHz, Float64Array.of(Number(hz)))[0]!;
    return `${hz}\t${(Number(db) + eqDb + inputGainDb).toFixed(2)}`;
  });
}
