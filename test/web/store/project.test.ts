import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { InputError } from '../../../src/inputError.js';
import { emptyProject } from '../../../web/store/emptyProject.js';
import { checkProject, MAX_PROJECT_LENGTH, parseProject } from '../../../web/store/project.js';
import { projectText } from '../../../web/store/projectText.js';
import { sampleProject } from './sampleProject.js';

const written = (changes: object) => JSON.stringify({ ...sampleProject(), ...changes });
const messageOf = (text: string): string => {
  try {
    parseProject(text, 'p.json');
  } catch (error) {
    expect(error).toBeInstanceOf(InputError);
    return (error as Error).message;
  }
  throw new Error('nothing was refused');
};

describe('a project file', () => {
  test('comes back as it was written, empty or full', () => {
    expect(parseProject(projectText(sampleProject()), 'p.json')).toEqual(sampleProject());
    expect(parseProject(projectText(emptyProject('x')), 'p.json')).toEqual(emptyProject('x'));
    expect(checkProject(sampleProject(), 'p')).toEqual(sampleProject());
  });

  test('holds no more options than were given, since defaults depend on the device', () => {
    expect(parseProject(written({ options: { bands: 5 } }), 'p.json').options).toEqual({ bands: 5 });
  });

  test('may hold quantities as a person writes them', () => {
    const options = {
      from: '0.06 kHz',
      maxBoost: '3 dB',
      smoothing: '1/24',
      target: 'flat',
      device: 'five-band-48k',
      aim: 'worst',
      effort: 'thorough',
      repeatability: '0.3 dB',
    };
    expect(parseProject(written({ options }), 'p.json').options).toEqual({
      from: 60,
      maxBoost: 3,
      smoothing: 1 / 24,
      target: 'flat',
      device: 'five-band-48k',
      aim: 'worst',
      effort: 'thorough',
      repeatability: 0.3,
    });
  });

  test('of a newer version is refused in plain words and for nothing else', () => {
    const message = messageOf(written({ schemaVersion: 2, mood: 'new' }));
    expect(message).toMatch(/schemaVersion: found 2, expected 1: .*newer version/);
    expect(message).not.toMatch(/mood/);
  });

  test.each([
    ['no JSON', '{"name":', /line 1 column 9: not valid JSON/],
    ['another kind of JSON', '[]', /found a list of 0, expected a project/],
    ['no version', '{"name": "x"}', /schemaVersion: found nothing, expected 1: is this a project/],
    ['an empty name', written({ name: ' ' }), /name: found an empty name/],
    [
      'a name that never ends',
      written({ name: 'x'.repeat(201) }),
      /name: found "x+…, expected a name of 1 to 200/,
    ],
    ['no files', written({ files: undefined }), /files: found nothing, expected a list of at most 100 files/],
    ['too many files', written({ files: Array(101).fill(0) }), /files: found a list of 101/],
    ['an unknown key', written({ filtres: [] }), /unknown key "filtres" \(did you mean "filters"\?\)/],
    [
      'an unknown option',
      written({ options: { bnads: 3 } }),
      /options: unknown key "bnads" \(did you mean "bands"\?\); known are target, device, aim, effort, bassShelf/,
    ],
    [
      'a length of search that is none',
      written({ options: { effort: 'endless' } }),
      /options\.effort: found "endless", expected quick or normal or thorough/,
    ],
    [
      'an aim that is none',
      written({ options: { aim: 'best' } }),
      /options\.aim: found "best", expected mean or worst/,
    ],
    [
      'options that contradict each other',
      written({ options: { qMin: 4, qMax: 2 } }),
      /options\.qMin: found 4, expected at most options\.qMax, 2/,
    ],
    [
      'an option out of bounds',
      written({ options: { bands: 99 } }),
      /options\.bands: found 99, expected a whole number from 1 to 40/,
    ],
    [
      'a target that is no list',
      written({ options: { target: 'slope' } }),
      /options\.target: found "slope", expected "flat" or breakpoints/,
    ],
    [
      'a target of one point',
      written({ options: { target: { breakpoints: [{ frequency: 1, level: 0 }] } } }),
      /options\.target\.breakpoints: found a list of 1/,
    ],
    [
      'an unknown device',
      written({ options: { device: 'x' } }),
      /options\.device: found "x", expected one of five-band-48k/,
    ],
    [
      'an expression',
      written({ options: { from: '3 furlong/s' } }),
      /found "3 furlong\/s", expected a number in Hz or dB/,
    ],
    [
      'an unknown verdict',
      written({ overrules: [{ frequencyHz: 1, verdict: 'boost', note: '' }] }),
      /overrules\[0\]\.verdict: found "boost", expected equalize, move, leave/,
    ],
    [
      'a filter that is none',
      written({
        filters: [{ filter: { type: 'notch', frequencyHz: 0, gainDb: 99, q: 0 }, locked: 1, on: true }],
      }),
      /5 problems/,
    ],
  ])('with %s is refused', (_, text, expected) => {
    expect(messageOf(text)).toMatch(expected);
  });

  test('tells line and path of every problem at once', () => {
    const text = projectText(sampleProject()).replace('"position"', '"seat"').replace('"leave"', '"go"');
    const message = messageOf(text);
    const lineOf = (word: string) => text.split('\n').findIndex((line) => line.includes(word)) + 1;
    expect(message).toContain(`line ${lineOf('"seat"')}: files[0].role: found "seat", expected position`);
    expect(message).toContain(`line ${lineOf('"go"')}: overrules[0].verdict: found "go"`);
  });

  test('has what filters are checked with: without them any number, of the other speaker one', () => {
    const off = { name: 'off.txt', role: 'before', encoding: 'text', content: '20 80\n' };
    const right = { name: 'right.json', role: 'other', encoding: 'text', content: '{}' };
    const files = [off, off, right];
    expect(parseProject(written({ files }), 'p.json').files).toEqual(files);
    expect(messageOf(written({ files: [...files, right] }))).toMatch(
      /files\[3\]\.role: found a second "other" beside files\[2\]/,
    );
  });

  test('has at most one set-up, one device and one calibration', () => {
    const setup = { name: 'b.json', role: 'setup', encoding: 'text', content: '{}' };
    expect(messageOf(written({ files: [...sampleProject().files, setup] }))).toMatch(
      /files\[3\]\.role: found a second "setup" beside files\[1\]/,
    );
  });

  test.each(['abc', 'ab=c', 'a b=', '=', '<img>=='])('with "%s" for base64 is refused', (content) => {
    const file = { name: 'a.wav', role: 'position', encoding: 'base64', content };
    expect(messageOf(written({ files: [file] }))).toMatch(/files\[0\]\.content: found .*, expected base64/);
  });

  test('that is too long is refused before it is read', () => {
    expect(messageOf(' '.repeat(MAX_PROJECT_LENGTH + 1))).toMatch(
      /found \d+ characters, expected a project of at most/,
    );
  });

  test('keeps hostile names as they are and is never tricked into a prototype', () => {
    const name = '<img src=x onerror=alert(1)>';
    expect(parseProject(written({ name }), 'p.json').name).toBe(name);
    const tricked = parseProject(
      projectText(sampleProject()).replace('"name"', '"__proto__": {"polluted": 1}, "name"'),
      'p.json',
    );
    expect(tricked).toEqual(sampleProject());
    expect('polluted' in tricked).toBe(false);
  });

  test('whatever it holds, nothing but an InputError is thrown', () => {
    const anything = fc.anything({ maxDepth: 2, maxKeys: 4 });
    fc.assert(
      fc.property(
        fc.constantFrom('name', 'files', 'options', 'overrules', 'filters', 'more'),
        anything,
        (key, value) => {
          const text = JSON.stringify({ ...sampleProject(), [key]: value }, (_, v) =>
            typeof v === 'bigint' ? String(v) : v,
          );
          try {
            parseProject(text, 'p.json');
          } catch (error) {
            expect(error).toBeInstanceOf(InputError);
          }
        },
      ),
      { seed: 5, numRuns: 100 },
    );
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        expect(() => parseProject(text, 'p.json')).toThrow(InputError);
      }),
      { seed: 6, numRuns: 200 },
    );
  });
});
