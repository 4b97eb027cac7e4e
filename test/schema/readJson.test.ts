import { expect, test } from 'vitest';
import { InputError } from '../../src/inputError.js';
import { readManifest } from '../../src/schema/batch.js';
import { designSchema } from '../../src/schema/design.js';
import { readJson } from '../../src/schema/readJson.js';

test('a file of another kind is refused with what was found and what was expected for every key', () => {
  const text = '{ "schemaVersion": 1, "title": 3, "sampleRateHz": 48000 }';
  let message = '';
  try {
    readJson(designSchema, text, 'coefficients.json');
  } catch (error) {
    expect(error).toBeInstanceOf(InputError);
    ({ message } = error as InputError);
  }
  expect(message).toContain('title: found 3, expected a text');
  expect(message).toContain('filters: found nothing, expected a list');
  expect(message).toContain('range: found nothing, expected an object {…}');
  expect(message).not.toMatch(/Invalid input|undefined/);
});

test.each([
  [{ schemaVersion: 2 }, 'schemaVersion: found 2, expected 1'],
  [{ inputGainDb: 3 }, 'inputGainDb: found 3, expected at most 0'],
  [{ sampleRateHz: 0 }, 'sampleRateHz: found 0, expected more than 0'],
  [
    { filters: [{ type: 'notch', frequencyHz: 1, gainDb: 1, q: 0 }] },
    'filters[0].type: found "notch", expected one of peaking, lowShelf, highShelf',
  ],
  [
    { filters: [{ type: 'peaking', frequencyHz: 1, gainDb: 500, q: 1 }] },
    'filters[0].gainDb: found 500, expected at most 200',
  ],
])('every refusal says what was found and what was expected: %o', (content, expected) => {
  expect(() => readJson(designSchema, JSON.stringify(content), 'design.json')).toThrow(expected);
});

test.each([
  ['{ "bands": 2 }', 'measurement: found nothing, expected a text or a list'],
  ['{ "measurement": 5 }', 'measurement: found 5, expected a text or a list'],
  ['{ "measurement": [] }', 'measurement: found a list of 0, expected a list of at least 1'],
  ['{ "measurement": "" }', 'measurement: found "", expected a text of at least 1 character'],
  ['{ "measurement": "a.txt", "bands": {} }', 'bands: found an object {…}, expected a text or a number'],
])('so does that of a job: %s', (line, expected) => {
  const [job] = readManifest(line, 'jobs.ndjson');
  expect(job!.read).toEqual({ problem: `jobs.ndjson, line 1: ${expected}` });
});

test.each([
  ['{ "measurement": "a.txt" } and more', 28, 'found "and", expected the end of the file'],
  ['{ "measurement": "a.txt", }', 27, 'found "}", expected another key in double quotes'],
  ['{ "bands": 2, "measurement": "a.txt", "bands": 3 }', 39, 'found the key "bands" a second time'],
])(
  'a line that is no JSON is refused with its place, what was found and what was expected: %s',
  (line, column, problem) => {
    const jobs = readManifest(`{ "measurement": "b.txt" }\r\n\r\n${line}\r\n`, 'jobs.ndjson');
    expect(jobs[0]!.read).toEqual({ measurement: 'b.txt' });
    const read = jobs[1]!.read as { problem: string };
    expect(read.problem).toContain(`jobs.ndjson line 3 column ${column}: not valid JSON: ${problem}`);
  },
);

test('a first line that is broken spoils no other job where the name says what the file is', () => {
  const jobs = readManifest('oops\n{ "measurement": "a.txt" }\n', 'jobs.ndjson');
  expect(jobs.map(({ read }) => 'problem' in read)).toEqual([true, false]);
});

test('two jobs of one name are refused with file and line: their results could not be told apart', () => {
  expect(() => readManifest('job,measurement\nleft,a.txt\nright,b.txt\nleft,c.txt\n', 'jobs.csv')).toThrow(
    /^jobs\.csv, line 4: found job "left", as at jobs\.csv, line 2 already, expected a name of its own/,
  );
  const numbered = '{ "job": 2, "measurement": "a.txt" }\n\n{ "measurement": "b.txt" }\n';
  expect(() => readManifest(numbered, 'jobs.ndjson')).toThrow(
    /jobs\.ndjson, line 3: found job "2".*line 1 .*number/,
  );
  expect(readManifest('measurement\na.txt\na.txt\n', 'jobs.csv').map(({ job }) => job)).toEqual(['1', '2']);
});

test('names options in NDJSON as on the command line or in camelCase, as in CSV', () => {
  const dashed = '{"measurement":"a.txt","max-boost":"3 dB","--q-max":4,"shelf-q-max":0.7}\n';
  const table = 'measurement,max-boost,--q-max,shelf-q-max\na.txt,3 dB,4,0.7\n';
  expect(readManifest(dashed, 'jobs.ndjson')[0]!.read).toEqual({
    measurement: 'a.txt',
    maxBoost: '3 dB',
    qMax: 4,
    shelfQMax: 0.7,
  });
  expect(readManifest(table, 'jobs.csv')[0]!.read).toEqual({
    measurement: 'a.txt',
    maxBoost: '3 dB',
    qMax: '4',
    shelfQMax: '0.7',
  });
});

test('does not choose between two spellings of one option', () => {
  const [job] = readManifest('{"measurement":"a.txt","maxBoost":3,"max-boost":6}\n', 'jobs.ndjson');
  expect(job!.read).toMatchObject({ problem: expect.stringMatching(/jobs\.ndjson, line 1.*"max-boost"/) });
});
