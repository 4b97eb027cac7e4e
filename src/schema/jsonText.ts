import { InputError } from '../inputError.js';

/** Where something stands in a text, both counted from 1. */
export interface TextPosition {
  readonly line: number;
  readonly column: number;
}

export type JsonPath = readonly (string | number)[];

/** A value read from JSON text that still knows where each part of it stood. */
export interface JsonText {
  readonly value: unknown;
  /** Where the value at `path` begins, or the nearest part around it that exists. */
  readonly locate: (path: JsonPath) => TextPosition;
  /** Where the key that leads to `path` begins; the value itself where there is no key. */
  readonly locateKey: (path: JsonPath) => TextPosition;
}

/** Where a value stands, and what is in it. */
interface Place {
  readonly at: number;
  readonly keyAt?: number;
  readonly children?: { readonly get: (key: string | number) => Place | undefined };
}

interface Node extends Place {
  readonly value: unknown;
}

const MAX_DEPTH = 100;
/** Some twenty times what a design holds; what is wrong with each of them has to find room in memory. */
const MAX_VALUES = 50_000;
const NUMBER = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;
const SPACE = /[ \t\r\n]*/y;
const LITERALS: readonly (readonly [string, unknown])[] = [
  ['true', true],
  ['false', false],
  ['null', null],
];

/**
 * Reads JSON as RFC 8259 has it, and refuses a key that stands twice in one object, since one of the two
 * would be dropped in silence.
 *
 * @param text JSON, with or without a byte-order mark
 * @param fileName for the message
 * @throws InputError with line, column, what was found and what was expected
 */
export function parseJsonText(text: string, fileName: string): JsonText {
  const root = parseNode(text.startsWith('\ufeff') ? ` ${text.slice(1)}` : text, fileName);
  const nearest = (path: JsonPath): Place => {
    let node: Place = root;
    for (const key of path) {
      const child = node.children?.get(key);
      if (!child) break;
      node = child;
    }
    return node;
  };
  // Found once: a file may have as many problems as lines.
  let starts: Uint32Array | undefined;
  const position = (at: number): TextPosition => {
    starts ??= lineStarts(text);
    return positionIn(starts, at);
  };
  return {
    value: root.value,
    locate: (path) => position(nearest(path).at),
    locateKey: (path) => {
      const { at, keyAt } = nearest(path);
      return position(keyAt ?? at);
    },
  };
}

const isLineEnd = (text: string, at: number): boolean =>
  text[at] === '\n' || (text[at] === '\r' && text[at + 1] !== '\n');

function lineStarts(text: string): Uint32Array {
  let count = 1;
  for (let at = 0; at < text.length; at++) if (isLineEnd(text, at)) count++;
  const starts = new Uint32Array(count);
  let line = 0;
  for (let at = 0; at < text.length; at++) if (isLineEnd(text, at)) starts[++line] = at + 1;
  return starts;
}

function positionIn(starts: Uint32Array, at: number): TextPosition {
  let [line, beyond] = [0, starts.length];
  while (beyond - line > 1) {
    const middle = (line + beyond) >> 1;
    if (starts[middle]! <= at) line = middle;
    else beyond = middle;
  }
  return { line: line + 1, column: at - starts[line]! + 1 };
}

function positionOf(text: string, at: number): TextPosition {
  return positionIn(lineStarts(text.slice(0, at)), at);
}

function parseNode(text: string, fileName: string): Node {
  let at = 0;
  let values = 0;

  const fail = (expected: string, where = at, found = foundAt(text, where)): never => {
    const { line, column } = positionOf(text, where);
    throw new InputError(
      `${fileName} line ${line} column ${column}: not valid JSON: found ${found}, expected ${expected}`,
    );
  };
  const take = (pattern: RegExp): string | undefined => {
    pattern.lastIndex = at;
    const found = pattern.exec(text)?.[0];
    at += found?.length ?? 0;
    return found;
  };
  const accept = (character: string): boolean => {
    take(SPACE);
    if (text[at] !== character) return false;
    at += 1;
    take(SPACE);
    return true;
  };
  const string = (expected: string): string => {
    if (text[at] !== '"') return fail(expected);
    let end = at + 1;
    while (end < text.length && text[end] !== '"' && text[end] !== '\n') end += text[end] === '\\' ? 2 : 1;
    const value = parseQuoted(text.slice(at, end + 1));
    if (value === undefined) {
      return fail('one that closes with " on its line and writes \\ as \\\\', at, 'a broken text in quotes');
    }
    at = end + 1;
    return value;
  };

  const object = (start: number, depth: number): Node => {
    const children = new Map<string | number, Place>();
    const value: [string, unknown][] = [];
    if (!accept('}')) {
      do {
        const keyAt = at;
        const key = string(children.size ? 'another key in double quotes' : 'a key in double quotes or "}"');
        if (children.has(key)) fail('each key once', keyAt, `the key ${JSON.stringify(key)} a second time`);
        if (!accept(':')) fail(`":" after the key ${JSON.stringify(key)}`);
        const { value: inner, ...place } = node(depth + 1);
        value.push([key, inner]);
        children.set(key, { ...place, keyAt });
      } while (accept(','));
      if (!accept('}')) fail('"," or "}"');
    }
    return { value: Object.fromEntries(value), at: start, children };
  };
  const array = (start: number, depth: number): Node => {
    const value: unknown[] = [];
    const places: number[] = [];
    const containers = new Map<string | number, Place>();
    if (!accept(']')) {
      do {
        const { value: inner, ...place } = node(depth + 1);
        if (place.children) containers.set(value.length, place);
        value.push(inner);
        places.push(place.at);
      } while (accept(','));
      if (!accept(']')) fail('"," or "]"');
    }
    // Of what has nothing in it only the place is kept.
    const get = (key: string | number) => {
      const at = places[key as number];
      return containers.get(key) ?? (at === undefined ? undefined : { at });
    };
    return { value, at: start, children: { get } };
  };
  const node = (depth: number): Node => {
    take(SPACE);
    if (depth > MAX_DEPTH) fail(`at most ${MAX_DEPTH} levels of nesting`);
    if (++values > MAX_VALUES) {
      const { line, column } = positionOf(text, at);
      throw new InputError(
        `${fileName} line ${line} column ${column}: found more than ${MAX_VALUES} values, expected at most that many: no such file holds more`,
      );
    }
    const start = at;
    if (accept('{')) return object(start, depth);
    if (accept('[')) return array(start, depth);
    if (text[at] === '"') return { value: string('a text'), at: start };
    for (const [word, value] of LITERALS) {
      if (text.startsWith(word, at)) {
        at += word.length;
        return { value, at: start };
      }
    }
    const number = take(NUMBER);
    if (number === undefined) return fail('a value: {…}, […], "text", a number, true, false or null');
    if (!Number.isFinite(Number(number))) return fail('a number up to 1e308', start, number);
    return { value: Number(number), at: start };
  };

  const root = node(0);
  take(SPACE);
  if (at < text.length) fail('the end of the file');
  return root;
}

function parseQuoted(token: string): string | undefined {
  try {
    return JSON.parse(token) as string;
  } catch {
    return undefined;
  }
}

function foundAt(text: string, at: number): string {
  if (at >= text.length) return 'the end of the file';
  const word = /^(?:[\w.+-]+|\P{Cc})/u.exec(text.slice(at, at + 24))?.[0];
  if (word) return JSON.stringify(word);
  return text[at] === '\n' || text[at] === '\r' ? 'the end of the line' : 'an unprintable character';
}
