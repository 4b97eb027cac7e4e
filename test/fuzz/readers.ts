import { readFileSync } from 'node:fs';
import { renderWav } from '../../src/export/audio/renderWav.js';
import { designJson } from '../../src/export/json/designJson.js';
import { readCurveText } from '../../src/measurement/readCurveText.js';
import { readMeasurement } from '../../src/measurement/readMeasurement.js';
import { writeWav } from '../../src/measurement/wavWriter.js';
import { readManifest } from '../../src/schema/batch.js';
import { designSchema } from '../../src/schema/design.js';
import { readDevice } from '../../src/schema/device.js';
import { readJson } from '../../src/schema/readJson.js';
import { readSetup } from '../../src/schema/setup.js';
import { readSweep } from '../../src/schema/sweep.js';
import { readTarget } from '../../src/schema/target.js';
import { parseProject } from '../../web/store/project.js';
import { projectText } from '../../web/store/projectText.js';
import { curveText } from '../cli/curveText.js';
import { sampleDesign } from '../export/sampleDesign.js';
import { impulseSamples } from '../measurement/impulseWav.js';
import { sampleProject } from '../web/store/sampleProject.js';

/** One way into the program for bytes that others wrote. */
export interface Reader {
  readonly name: string;
  /** What its messages must call the file. */
  readonly fileName: string;
  /** Files that it takes, to be spoilt. */
  readonly valid: readonly Uint8Array[];
  /** Whether what it takes is JSON, a table, or bytes. */
  readonly kind: 'json' | 'rows' | 'binary';
  readonly read: (bytes: Uint8Array, fileName: string) => unknown;
}

const encoded = (text: string) => new TextEncoder().encode(text);
/** As the command line does; bytes that are no UTF-8 are refused before, so here they become what a browser makes of them. */
const text =
  (read: (text: string, fileName: string) => unknown) =>
  (bytes: Uint8Array, fileName: string): unknown =>
    read(new TextDecoder().decode(bytes), fileName);
const json = (
  name: string,
  valid: readonly unknown[],
  read: (text: string, fileName: string) => unknown,
) => ({
  name,
  fileName: `${name}.json`,
  kind: 'json' as const,
  valid: valid.map((value) => encoded(typeof value === 'string' ? value : JSON.stringify(value, null, 1))),
  read: text(read),
});

const setup = readFileSync(new URL('../../fixtures/demo/setup.json', import.meta.url), 'utf8');
const smallSetup = {
  microphoneDistance: 1,
  surfaces: [{ name: 'desk', speakerDistance: '18 cm ± 5 %', microphoneDistance: '5 ft 3 in' }],
};
const target = {
  breakpoints: [
    { frequency: '100 Hz', level: '2 dB' },
    { frequency: 1000, level: -1.5 },
  ],
};
const device = {
  name: 'five-band-48k',
  sampleRatesHz: [48000],
  bands: [
    { types: ['peaking'], count: 5 },
    { types: ['lowShelf'], count: 1 },
  ],
  gainDb: { min: -12, max: 6, step: 0.5 },
  frequencyHz: { min: 20, max: 20000, perOctave: 3 },
  q: { values: [0.5, 1, 2] },
  qConvention: 'cookbook',
  coefficients: { format: 'fixed', integerBits: 5, fractionBits: 23, feedbackSign: 'subtracted' },
};
const sweep = {
  schemaVersion: 1,
  sweep: {
    fromHz: 20,
    toHz: 20000,
    durationS: 5,
    sampleRateHz: 48000,
    levelDb: -12,
    fadeInS: 0.01,
    fadeOutS: 0.01,
    silenceBeforeS: 0.5,
    silenceAfterS: 1,
  },
};
const whole = sampleDesign();
const shortDesign = {
  ...whole,
  curves: Object.fromEntries(
    Object.entries(whole.curves).map(([name, values]) => [name, values.slice(0, 4)]),
  ) as typeof whole.curves,
};
const impulse = (format: 'pcm16' | 'float32' | 'float64') =>
  writeWav({ channels: [impulseSamples({ length: 700, noise: 1e-4 })], sampleRateHz: 48000, format }).bytes;
const phaseRows = curveText({ rows: 24 })
  .split('\n')
  .map((line, i) =>
    i === 0 ? 'frequency (Hz);level (dB);phase (deg)' : line && `${line.replace(' ', ';')};${i * 7}`,
  )
  .join('\r\n');

/** Every reader of a file, through the functions that the command line and the app hand its bytes to. */
export const readers: readonly Reader[] = [
  {
    name: 'measurement',
    fileName: 'x.txt',
    kind: 'rows',
    valid: [encoded(curveText({ rows: 24 })), encoded(phaseRows)],
    read: (bytes, fileName) => readMeasurement(bytes, fileName),
  },
  {
    name: 'calibration',
    fileName: 'microphone.txt',
    kind: 'rows',
    valid: [encoded('20 -1\n1000 0\n20000 1,5\n'), encoded('# made up\n20, -1\n1000, 0\n')],
    read: (bytes, fileName) => readCurveText(bytes, fileName),
  },
  {
    name: 'impulse response',
    fileName: 'x.wav',
    kind: 'binary',
    valid: (['pcm16', 'float32', 'float64'] as const).map(impulse),
    read: (bytes, fileName) => readMeasurement(bytes, fileName),
  },
  {
    name: 'audio to be rendered',
    fileName: 'x.wav',
    kind: 'binary',
    valid: (['pcm16', 'float32', 'float64'] as const).map(impulse),
    read: (bytes, fileName) =>
      renderWav({ filters: [], sampleRateHz: 48000, inputGainDb: 0 }, bytes, fileName).report,
  },
  json('set-up', [setup, smallSetup], readSetup),
  json('target', [target], readTarget),
  json('device', [device], readDevice),
  json('sweep', [sweep], readSweep),
  json('design', [designJson(shortDesign)], (written, fileName) => readJson(designSchema, written, fileName)),
  json('project', [projectText(sampleProject())], parseProject),
  {
    ...json('manifest', [], readManifest),
    kind: 'rows',
    valid: [
      encoded('{"measurement": ["a.txt", "b.txt"], "bands": 5}\n{"job": 7, "measurement": "c.txt"}\n'),
      encoded('job;measurement;max-boost\n1;a.txt|b.txt;3 dB\n"two ""and"" more";"c.txt";\n'),
    ],
  },
];
