import { writeFileSync } from 'node:fs';
import { afterAll, expect, test } from 'vitest';
import { readDesignFile } from '../../../cli/io/readDesignFile.js';
import { InputError } from '../../../src/inputError.js';
import { sampleDesign } from '../../export/sampleDesign.js';
import { workFolder } from '../workFolder.js';

const work = workFolder({ 'curve.txt': '20 80\n21 81\n', 'list.json': '[1]', 'empty.txt': '' });
afterAll(() => work.remove());

test.each([
  ['curve.txt', ' line 1: found "20 80"'],
  ['list.json', ' line 1: found a list'],
  ['empty.txt', ': found an empty file'],
])('what is no JSON object is refused with what was expected: %s', (name, found) => {
  const path = work.path(name);
  const read = () => readDesignFile(path);
  expect(read).toThrow(InputError);
  expect(read).toThrow(`${path}${found}, expected a design as \`nullwise fit --out\` leaves it`);
  expect(read).toThrow('design.json');
});

test('a design that begins with a byte-order mark and blanks is one', () => {
  const path = work.path('design.json');
  writeFileSync(path, `\ufeff\n ${JSON.stringify(sampleDesign())}`);
  expect(readDesignFile(path)).toEqual(sampleDesign());
});

test('filters that the sample rate cannot hold, or settings of others, are refused by file and place', () => {
  const design = sampleDesign();
  const [first, ...others] = design.filters;
  const { frequencyHz, gainDb, q, type } = first!;
  const setting = { band: 1, type, frequencyHz, gainDb, q };
  const path = work.path('edited.json');
  const read = (edited: object) => {
    writeFileSync(path, JSON.stringify({ ...design, ...edited }));
    return () => readDesignFile(path);
  };
  const half = design.sampleRateHz / 2;
  expect(read({ filters: [...others, { ...first, frequencyHz: half }] })).toThrow(
    `${path}: filters[${others.length}].frequencyHz: found ${half}, expected less than ${half}, half of sampleRateHz`,
  );
  expect(read({ filters: [{ ...first, frequencyHz: half - 1 }] })).not.toThrow();
  expect(read({ filters: [first], deviceSettings: [setting, setting] })).toThrow(
    `${path}: found 2 in deviceSettings, expected 1, one for each of filters`,
  );
  expect(read({ filters: [first], deviceSettings: [setting] })).not.toThrow();
});
