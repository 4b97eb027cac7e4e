import { beforeAll, describe, expect, test } from 'vitest';
import { seededRandom } from '../../src/fit/seededRandom.js';
import { InputError } from '../../src/inputError.js';
import { readMeasurement } from '../../src/measurement/readMeasurement.js';
import { readMeasurementText } from '../../src/measurement/readMeasurementText.js';
import { writeWav } from '../../src/measurement/wavWriter.js';
import { readManifest } from '../../src/schema/batch.js';
import { readSetup } from '../../src/schema/setup.js';
import { loadUnitEngine } from '../../src/units/unitEngine.js';
import { hostileBytes } from '../fuzz/hostileBytes.js';
import { judgeReading } from '../fuzz/judgeReading.js';
import { readers } from '../fuzz/readers.js';

const CASES = 250;

beforeAll(loadUnitEngine);

const encoded = (text: string) => new TextEncoder().encode(text);
/** What is said on refusal; a failed expectation where it is read, or where something else is thrown. */
function refusal(work: () => unknown): string {
  try {
    work();
  } catch (error) {
    if (error instanceof InputError) return error.message;
    throw error;
  }
  return expect.fail('it was read');
}

describe.each(readers)('the reader of a $name', (reader) => {
  test('takes its own files', () => {
    for (const bytes of reader.valid) expect(judgeReading(reader, bytes)).toEqual({ did: 'read' });
  });

  test('reads or refuses, in words that name the file, whatever was done to one', () => {
    const did = { read: 0, refused: 0 };
    for (let seed = 1; seed <= CASES; seed++) {
      const judged = judgeReading(reader, hostileBytes(reader, seededRandom(seed)));
      if (judged.fault) expect.fail(`seed ${seed}: ${judged.fault}`);
      did[judged.did]++;
    }
    // Both happen, so that the test says something about each.
    expect(did.refused).toBeGreaterThan(CASES / 10);
    expect(did.read).toBeGreaterThan(0);
  });
});

describe('faults that were found', () => {
  const rows = (row: string) => encoded(`${'100 80\n'.repeat(3)}${row}\n${'200 80\n'.repeat(20)}`);
  const measurement = (bytes: Uint8Array) => refusal(() => readMeasurementText(bytes, 'x.txt'));

  test('a number of half a million digits is no number, and no overflow of the stack', () => {
    expect(measurement(rows(`150 ${'7'.repeat(500_000)}`))).toContain('x.txt line 4');
  });

  test('a file of nothing but byte-order marks is empty', () => {
    const marks = Uint8Array.from({ length: 300_000 }, (_, i) => [0xef, 0xbb, 0xbf][i % 3]!);
    expect(measurement(marks)).toContain('x.txt: the file is empty');
  });

  test.each(['1e300', '1e-300'])(
    'a frequency of %s Hz is refused before a grid is laid over its octaves',
    (hz) => {
      expect(measurement(rows(`${hz} 80`))).toContain(`x.txt line 4: found "${hz} 80"`);
    },
  );

  test('a phase of 1e300 degrees is refused', () => {
    const table = Array.from({ length: 20 }, (_, i) => `${100 + i} 80 ${i === 7 ? '1e300' : i}`).join('\n');
    expect(measurement(encoded(table))).toMatch(/x\.txt line 8: .*phase 1e300/);
  });

  test.each([1e200, 1e-200])('an impulse response whose peak is %f has no level, and is refused', (peak) => {
    const samples = Float64Array.from({ length: 700 }, (_, i) => peak * Math.exp(-i / 40) * Math.cos(i));
    const { bytes } = writeWav({ channels: [samples], sampleRateHz: 48000, format: 'float64' });
    expect(refusal(() => readMeasurement(bytes, 'x.wav'))).toMatch(
      /^x\.wav: its highest sample is 1\.00e[+-]200/,
    );
  });

  test('ten thousand faulty surfaces are refused at once, the first fifty by line and the others by number', () => {
    const surface = '{ "name": 1, "speakerDistance": "x", "microphoneDistance": "y" }';
    const text = `{ "microphoneDistance": "1 m", "surfaces": [\n${Array(10_000).fill(surface).join(',\n')}\n] }`;
    const message = refusal(() => readSetup(text, 'set-up.json'));
    expect(message).toMatch(/^set-up\.json: 30000 problems\n {2}line 2: surfaces\[0\]\.name/);
    expect(message).toContain('and 29950 more');
    expect(message.length).toBeLessThan(20_000);
  });

  test('twelve thousand surfaces of one name are told apart by their places', () => {
    const surface = '{ "name": "desk", "speakerDistance": 1, "microphoneDistance": 1 }';
    const text = `{ "microphoneDistance": "1 m", "surfaces": [${Array(12_000).fill(surface).join(',')}] }`;
    expect(refusal(() => readSetup(text, 'set-up.json'))).toContain('surfaces[0]');
  });

  test('more values than any such file has are refused before they are looked at', () => {
    const text = `{ "microphoneDistance": "1 m", "surfaces": [\n${Array(60_000).fill('0').join(',\n')}] }`;
    expect(refusal(() => readSetup(text, 'set-up.json'))).toMatch(
      /^set-up\.json line 49999 column 1: found more than 50000 values, expected at most/,
    );
    const job = JSON.stringify({ measurement: Array(40_000).fill('a.txt') });
    const [entry] = readManifest(`${job}\n`, 'jobs.ndjson');
    expect(entry).toMatchObject({
      read: { problem: expect.stringMatching(/^jobs\.ndjson, line 1: found 3\d+ characters/) },
    });
  });

  test('a length of a hundred thousand digits keeps no pattern busy', () => {
    const text = `{ "microphoneDistance": "${'1'.repeat(100_000)} x" }`;
    expect(refusal(() => readSetup(text, 'set-up.json'))).toMatch(/^set-up\.json line 1: microphoneDistance/);
  });

  test('a key of a million letters is compared with no other and shown in part', () => {
    const message = refusal(() => readSetup(`{ "${'k'.repeat(1_000_000)}": 1 }`, 'set-up.json'));
    expect(message).toContain('unknown key "kkk');
    expect(message.length).toBeLessThan(1000);
  });

  test('a key called __proto__ is an unknown key like any other', () => {
    const message = refusal(() =>
      readSetup('{ "microphoneDistance": 1, "__proto__": { "surfaces": [] } }', 'set-up.json'),
    );
    expect(message).toContain('unknown key "__proto__"');
  });

  test('a manifest whose header has thousands of cells is refused in a few lines', () => {
    const message = refusal(() => readManifest(`${'a,'.repeat(20_000)}\n1,2\n`, 'manifest.csv'));
    expect(message).toContain('manifest.csv, line 1');
    expect(message.length).toBeLessThan(2000);
  });
});
