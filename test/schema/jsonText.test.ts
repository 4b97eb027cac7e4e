import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { InputError } from '../../src/inputError.js';
import { parseJsonText } from '../../src/schema/jsonText.js';

const parse = (text: string) => parseJsonText(text, 'a.json');

function refusalOf(text: string): string {
  try {
    parse(text);
  } catch (error) {
    expect(error).toBeInstanceOf(InputError);
    return (error as InputError).message;
  }
  throw new Error(`not refused: ${text}`);
}

describe('parseJsonText', () => {
  test('reads what the built-in parser reads, to the same value', () => {
    fc.assert(
      fc.property(fc.json(), fc.constantFrom(undefined, 2, '\t'), (json, indent) => {
        const text = JSON.stringify(JSON.parse(json), null, indent);
        expect(parse(text).value).toEqual(JSON.parse(text));
      }),
      { seed: 1, numRuns: 500 },
    );
  });

  test('refuses every text that the built-in parser refuses, and only InputErrors come out', () => {
    const pieces = fc.constantFrom(
      '{',
      '}',
      '[',
      ']',
      ',',
      ':',
      '"a"',
      '"',
      '\\',
      '1',
      '-',
      '.5',
      'e3',
      'null',
      'tru',
      '\n',
      ' ',
    );
    fc.assert(
      fc.property(fc.array(pieces, { maxLength: 8 }), (parts) => {
        const text = parts.join('');
        let builtIn: unknown;
        try {
          builtIn = JSON.parse(text);
        } catch {
          refusalOf(text);
          return;
        }
        expect(parse(text).value).toEqual(builtIn);
      }),
      { seed: 2, numRuns: 3000 },
    );
  });

  test.each([
    ['{"a":1,}', 'a.json line 1 column 8: not valid JSON: found "}", expected another key in double quotes'],
    ['{\n  "a" 1\n}', 'a.json line 2 column 7: not valid JSON: found "1", expected ":" after the key "a"'],
    ['', 'a.json line 1 column 1: not valid JSON: found the end of the file, expected a value'],
    ['{"a": "one\ntwo"}', 'line 1 column 7: not valid JSON: found a broken text in quotes'],
    ['[1,\r\n2,\r\nNaN]', 'line 3 column 1: not valid JSON: found "NaN", expected a value'],
    ['{"a":1} {"b":2}', 'line 1 column 9: not valid JSON: found "{", expected the end of the file'],
    ['[1e999]', 'line 1 column 2: not valid JSON: found 1e999, expected a number up to 1e308'],
  ])('says where %j breaks off, what was found and what was expected', (text, message) => {
    expect(refusalOf(text)).toContain(message);
  });

  test('refuses a key that stands twice, since one of the two would be dropped in silence', () => {
    expect(refusalOf('{"a": 1,\n "b": 2,\n "a": 3}')).toBe(
      'a.json line 3 column 2: not valid JSON: found the key "a" a second time, expected each key once',
    );
  });

  test('refuses nesting that would exhaust the stack', () => {
    expect(refusalOf('['.repeat(100_000))).toContain('expected at most 100 levels of nesting');
  });

  test('reads a text of millions of characters in quotes', () => {
    const long = 'ab\\n'.repeat(2_000_000);
    expect((parse(`"${long}"`).value as string).length).toBe(6_000_000);
  });

  test('keeps the key __proto__ a plain key', () => {
    const { value } = parse('{"__proto__": {"polluted": true}}');
    expect(Object.keys(value as object)).toEqual(['__proto__']);
    expect(({} as { polluted?: boolean }).polluted).toBeUndefined();
  });

  test('knows where values and keys stand, past a byte-order mark and any line end', () => {
    const json = parse('\ufeff{ "a":\r\n  [ 1,\n    { "b": 2 } ] }');
    expect(json.locate(['a', 1, 'b'])).toEqual({ line: 3, column: 12 });
    expect(json.locateKey(['a', 1, 'b'])).toEqual({ line: 3, column: 7 });
    expect(json.locate(['a', 1, 'missing'])).toEqual({ line: 3, column: 5 });
    expect(json.locateKey(['a'])).toEqual({ line: 1, column: 4 });
  });
});
