import { expect, test } from 'vitest';
import { design } from '../../../src/design.js';
import { bankResponseDb } from '../../../src/filter/bankResponseDb.js';
import type { Filter } from '../../../src/filter/filter.js';
import { createBankRunner } from '../../../src/filter/runBank.js';
import { InputError } from '../../../src/inputError.js';
import { readMeasurement } from '../../../src/measurement/readMeasurement.js';
import { writeWav } from '../../../src/measurement/wavWriter.js';
import { DEFAULT_LIMITS } from '../../../src/pipeline/designRequest.js';
import { verifyDesign } from '../../../src/verify/verifyDesign.js';
import type { FileRole, ProjectFile } from '../../../web/store/project.js';
import { projectFile } from '../../../web/store/projectFile.js';
import { checkDesign } from '../../../web/work/checkDesign.js';
import { calibrationOf } from '../../../web/work/readJob.js';

const GRID_HZ = Float64Array.from({ length: 240 }, (_, i) => 20 * 1000 ** (i / 239));
const LEFT: readonly Filter[] = [
  { type: 'peaking', frequencyHz: 420, gainDb: 5, q: 3 },
  { type: 'peaking', frequencyHz: 3100, gainDb: 4, q: 2 },
];
const RIGHT: readonly Filter[] = [
  { type: 'peaking', frequencyHz: 180, gainDb: 6, q: 2 },
  { type: 'peaking', frequencyHz: 1500, gainDb: -5, q: 2 },
];
const OTHER_MICROPHONE: readonly Filter[] = [{ type: 'highShelf', frequencyHz: 3000, gainDb: 6, q: 0.7 }];

const bytes = (text: string) => new TextEncoder().encode(text);
const rows = (...banks: readonly (readonly Filter[])[]) => {
  const db = bankResponseDb(banks.flat(), 48_000, GRID_HZ);
  return bytes(Array.from(GRID_HZ, (hz, i) => `${hz.toFixed(3)} ${(80 + db[i]!).toFixed(3)}`).join('\n'));
};
const file = (name: string, role: FileRole, content: Uint8Array): ProjectFile =>
  projectFile(name, role, content);
const designOf = (content: Uint8Array, name: string) =>
  design({
    title: name,
    measurements: [readMeasurement(content, name)],
    target: {},
    ...DEFAULT_LIMITS,
    bands: 3,
  });

const left = designOf(rows(LEFT), 'left.txt');
const right = designOf(rows(RIGHT), 'right.txt');
const NOTHING = { before: [], other: undefined, calibration: undefined };
const types = (check: Partial<Parameters<typeof checkDesign>[0]>) =>
  checkDesign({ design: left, after: [], ...NOTHING, ...check }).faults.map(({ type }) => type);

test('another microphone is no fault where it measured without the filters too', () => {
  const after = [file('on.txt', 'after', rows(LEFT, left.filters, OTHER_MICROPHONE))];
  const before = [file('off.txt', 'before', rows(LEFT, OTHER_MICROPHONE))];
  expect(types({ after })).not.toEqual([]);
  expect(types({ after, before })).toEqual([]);
  const { compared } = checkDesign({ design: left, after, ...NOTHING, before: [...before, ...before] });
  expect(compared).toEqual({ after: 1, before: 2, beforeFrom: 'measurement' });
});

test('exchanged filters are told by the other design, exchanged speakers by its measurement too', () => {
  const after = [file('on.txt', 'after', rows(LEFT, right.filters))];
  const other = file('right.json', 'other', bytes(JSON.stringify(right)));
  expect(types({ after })).not.toContain('channelsSwapped');
  expect(types({ after, other })).toEqual(['channelsSwapped']);
  const speaker = [file('on.txt', 'after', rows(RIGHT, left.filters))];
  expect(types({ after: speaker, other: file('right.txt', 'other', rows(RIGHT)) })).toEqual([
    'channelsSwapped',
  ]);
});

test('what is wrong names the file that it is wrong in, once', () => {
  const after = [file('on.txt', 'after', rows(LEFT, left.filters))];
  const message = (check: object) => {
    try {
      checkDesign({ design: left, after, ...NOTHING, ...check });
    } catch (error) {
      if (error instanceof InputError) return error.message;
      throw error;
    }
    return undefined;
  };
  const coarse = bytes(Array.from({ length: 20 }, (_, i) => `${20 * 1.4 ** i} 80`).join('\n'));
  expect(message({ before: [file('off.txt', 'before', coarse)] })).toMatch(/^off\.txt is too coarse/);
  const short = bytes(Array.from({ length: 40 }, (_, i) => `${1000 * 1.02 ** i} 80`).join('\n'));
  expect(message({ other: file('right.txt', 'other', short) })).toContain('right.txt');
  expect(message({ other: file('right.json', 'other', bytes('{}')) })).toMatch(/^right\.json/);
});

test('a short gate takes off right filters what it takes off on the command line', () => {
  const ringing: readonly Filter[] = [{ type: 'peaking', frequencyHz: 244, gainDb: -9, q: 10 }];
  const wav = (filters: readonly Filter[]) => {
    const clicks = new Float64Array(24_000);
    clicks[480] = 0.4;
    createBankRunner(filters, 48_000, 0)(clicks);
    return writeWav({ channels: [clicks], sampleRateHz: 48_000, format: 'float32' }).bytes;
  };
  const gate = { afterS: 0.005 };
  const seen = readMeasurement(wav(ringing), 'on.wav', { gate });
  const flat = design({
    title: 'click',
    measurements: [readMeasurement(wav([]), 'off.wav', { gate })],
    target: {},
    ...DEFAULT_LIMITS,
    bands: 1,
  });
  const asked = { ...flat, filters: [...ringing] };
  const after = [{ ...file('on.wav', 'after', wav(ringing)), gate: '5 ms' }];
  const checked = checkDesign({ design: asked, after, ...NOTHING });
  const names = { after: 'on.wav' };
  expect(checked).toEqual(
    verifyDesign({ design: asked, after: seen.curve, seen, warnings: seen.warnings, fileNames: names }),
  );
  expect(checked).not.toEqual(
    verifyDesign({ design: asked, after: seen.curve, warnings: seen.warnings, fileNames: names }),
  );
});

test('a check without the calibration that the filters were made with is told so, one with it is not', () => {
  const calibration = projectFile('mic.txt', 'calibration', rows(OTHER_MICROPHONE));
  const made = design({
    title: 'left.txt',
    measurements: [readMeasurement(rows(LEFT), 'left.txt')],
    calibration: calibrationOf(calibration).curve,
    calibrationName: 'mic.txt',
    target: {},
    ...DEFAULT_LIMITS,
    bands: 3,
  });
  const after = [file('on.txt', 'after', rows(LEFT, made.filters))];
  const codes = (taken: ProjectFile | undefined) =>
    checkDesign({ design: made, after, ...NOTHING, calibration: taken }).warnings.map(({ code }) => code);
  expect(codes(undefined)).toContain('other-calibration');
  expect(codes(projectFile('flat.txt', 'calibration', rows()))).toContain('other-calibration');
  expect(codes(calibration)).not.toContain('other-calibration');
});
