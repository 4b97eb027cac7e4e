import { afterAll, beforeEach, describe, expect, test, vi } from 'vitest';
import { run } from '../../cli/run.js';
import { curveText } from './curveText.js';
import { workFolder } from './workFolder.js';

const rows = curveText().split('\n');
const work = workFolder({
  'room.txt': curveText(),
  'binary.txt': Uint8Array.from({ length: 4096 }, (_, i) => (i * 37) % 256),
  'empty.txt': '',
  'words.txt': '\ufeff\r\n\r\n20 80\r\n40 80\r\n',
  'list.json': '[1, 2]',
  'zero.txt': rows.with(1, '0 80').join('\n'),
  'nan.txt': rows.with(100, '151.7 NaN').join('\n'),
  'setup.json':
    '{ "microphoneDistance": "1 m",\n  "surfaces": [ { "name": "desk", "speakerDistanse": "18 cm" } ] }',
  'syntax.json': '{ "microphoneDistance": "1 m",\n  "temperature" "20 degC" }',
  'target.json': '{ "breakpoints": [ { "frequency": "100 Hz", "level": "2 dB" } ] }',
});
const before = work.list();
afterAll(work.remove);

let stderr = '';
let stdout = '';
beforeEach(() => {
  stderr = stdout = '';
  vi.spyOn(process.stderr, 'write').mockImplementation((text) => {
    stderr += String(text);
    return true;
  });
  vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    stdout += String(text);
    return true;
  });
  return () => vi.restoreAllMocks();
});

/** File names become paths into the work folder. */
const inFolder = (args: readonly string[]) => args.map((arg) => (arg.includes('.') ? work.path(arg) : arg));

describe('the files beside the measurement are refused in the same way', () => {
  test.each([
    ['a path below a file', ['room.txt/x.txt'], ['room.txt/x.txt: found no such file']],
    ['one good and one bad position', ['room.txt', 'nan.txt'], ['nan.txt line 101']],
    ['a bad other placement', ['room.txt', '--moved', 'zero.txt'], ['zero.txt line 2']],
    [
      'a set-up with an unknown key',
      ['room.txt', '--setup', 'setup.json'],
      ['setup.json', 'line 2', 'speakerDistanse', 'did you mean "speakerDistance"?'],
    ],
    [
      'a set-up that is no JSON',
      ['room.txt', '--setup', 'syntax.json'],
      ['syntax.json line 2 column 17', 'expected ":"'],
    ],
    [
      'a curve for a set-up',
      ['room.txt', '--setup', 'room.txt'],
      ['room.txt line 1: found "', 'expected a set-up file in JSON (its format: nullwise schema setup)'],
    ],
    [
      'an empty set-up and a curve for a device',
      ['room.txt', '--setup', 'empty.txt', '--device', 'words.txt'],
      [
        'empty.txt: found an empty file, expected a set-up',
        'words.txt line 3: found "20 80", expected one of',
      ],
    ],
    [
      'a list for a target',
      ['room.txt', '--target', 'list.json'],
      ['list.json line 1: found a list, expected a target file'],
    ],
    [
      'a missing set-up',
      ['room.txt', '--setup', 'no.json'],
      ['no.json: found no such file', 'expected a set-up'],
    ],
    ['a binary set-up', ['room.txt', '--setup', 'binary.txt'], ['binary.txt', 'no UTF-8 text']],
    [
      'a target with one breakpoint',
      ['room.txt', '--target', 'target.json'],
      ['target.json line 1: breakpoints', 'expected at least two breakpoints'],
    ],
    ['an empty target', ['room.txt', '--target', 'empty.txt'], ['empty.txt']],
    ['a missing calibration', ['room.txt', '--calibration', 'mic.txt'], ['mic.txt: found no such file']],
  ])('%s', async (_, args, expected) => {
    const code = await run(['fit', ...inFolder(args), '--out', work.path('result')]);
    for (const words of expected) expect(stderr).toContain(words);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(work.list()).toEqual(before);
  });
});
