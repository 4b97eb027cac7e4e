import { writeFileSync } from 'node:fs';
import { afterAll, expect, test } from 'vitest';
import { readDesignFile } from '../../../cli/io/readDesignFile.js';
import { InputError } from '../../../src/inputError.js';
import { sampleDesign } from '../../export/sampleDesign.js';
import { workFolder } from '../workFolder.js';

const work = workFolder({ 'curve.txt': '20 80\n21 81\n', 'list.json': '[1]', 'empty.txt': '' });
afterAll(() => work.remove());

test.each(['curve.txt', 'list.json', 'empty.txt'])(
  'what is no JSON object is refused with what was expected: %s',
  (name) => {
    const path = work.path(name);
    const read = () => readDesignFile(path);
    expect(read).toThrow(InputError);
    expect(read).toThrow(
      `${path}: found no JSON object, expected a design as \`nullwise fit --out\` leaves it`,
    );
    expect(read).toThrow('design.json');
  },
);

test('a design that begins with a byte-order mark and blanks is one', () => {
  const path = work.path('design.json');
  writeFileSync(path, `\ufeff\n ${JSON.stringify(sampleDesign())}`);
  expect(readDesignFile(path)).toEqual(sampleDesign());
});
