import type { Reader } from './readers.js';

type Random = () => number;

const NUMBERS = [
  'NaN', 'Infinity', '-Infinity', '1e999', '-1e999', '-0', '0', '1e308', '-1e308', '1e-308', '5e-324', '1e400',
  '9'.repeat(400), `0.${'0'.repeat(400)}1`, '1e', '1,5', '1.000,5', '0x10', '2e9999999999', '4294967296', '-1', '1/0',
  '٣', 'null', '""', '"1 m ± 1e308 m"', '"1e300 km"', '"9^9 m"', '"1/0 m"', '"(((1 m"', '"1 m^-9"', '"-5 cm"',
]; // biome-ignore format: one list
const SNIPPETS = [
  '"__proto__"', '{"__proto__":{"x":1}}', '"constructor"', '\\ud800', '\ud800', '\udfff', '\ufeff', '\u2028', '\u0000',
  '\r', '\r\n', '\n\r', '\v', '\f', ';', ',', '\t', '"', "'", '\\', '[', ']', '{', '}', ':', '# ', '// ', '=1+1',
  '<script>', '../../etc/passwd', '%s%n', '±', '°', '−', '½', 'kHz', 'RIFF', '\u202e', 'e', '.', '-', '  ', '|',
]; // biome-ignore format: one list

const pick = <T>(random: Random, list: readonly T[]): T => list[Math.floor(random() * list.length)]!;
const below = (random: Random, n: number) => Math.floor(random() * n);
const encode = (text: string) => new TextEncoder().encode(text);
/** One character a byte, so that any bytes survive being edited as text. */
const latin = (bytes: Uint8Array) => Array.from(bytes, (byte) => String.fromCharCode(byte)).join('');
const bytesOf = (text: string) =>
  [...text].every((c) => c.charCodeAt(0) < 256 && c.length === 1)
    ? Uint8Array.from(text, (c) => c.charCodeAt(0))
    : encode(text);

function randomBytes(random: Random): Uint8Array {
  const alphabet = pick(random, ['', '0123456789.,;-+eE \t\r\n', '{}[]":,0123456789truefalsn \n']);
  return Uint8Array.from({ length: below(random, 400) }, () =>
    alphabet === '' ? below(random, 256) : alphabet.charCodeAt(below(random, alphabet.length)),
  );
}

type Spoil = (bytes: Uint8Array, random: Random) => Uint8Array;

const spoilers: readonly Spoil[] = [
  function flip(bytes, random) {
    const copy = Uint8Array.from(bytes);
    if (copy.length > 0) copy[below(random, copy.length)]! ^= 1 << below(random, 8);
    return copy;
  },
  function overwrite(bytes, random) {
    const copy = Uint8Array.from(bytes);
    const at = below(random, Math.min(copy.length, pick(random, [64, copy.length])));
    if (copy.length > 0) copy.fill(pick(random, [0, 1, 127, 128, 255]), at, at + 1 + below(random, 4));
    return copy;
  },
  function cut(bytes, random) {
    return bytes.slice(0, below(random, bytes.length + 1));
  },
  function leaveOut(bytes, random) {
    const at = below(random, bytes.length);
    const upTo = at + below(random, Math.min(64, bytes.length - at + 1));
    return Uint8Array.from([...bytes.subarray(0, at), ...bytes.subarray(upTo)]);
  },
  function double(bytes, random) {
    const at = below(random, bytes.length);
    const piece = bytes.subarray(at, at + below(random, 80));
    return Uint8Array.from([...bytes.subarray(0, at), ...piece, ...bytes.subarray(at)]);
  },
  function otherNumber(bytes, random) {
    const text = latin(bytes);
    const numbers = [...text.matchAll(/-?\d+(?:\.\d+)?/g)];
    if (numbers.length === 0) return bytes;
    const { index, 0: number } = pick(random, numbers);
    return bytesOf(
      text.slice(0, index) + latin(encode(pick(random, NUMBERS))) + text.slice(index + number.length),
    );
  },
  function insert(bytes, random) {
    const at = below(random, bytes.length + 1);
    return Uint8Array.from([
      ...bytes.subarray(0, at),
      ...encode(pick(random, SNIPPETS)),
      ...bytes.subarray(at),
    ]);
  },
  function otherLineEnds(bytes, random) {
    return bytesOf(latin(bytes).replace(/\n/g, () => pick(random, ['\n', '\r\n', '\r', '\n\r', '\n\n'])));
  },
  function otherEncoding(bytes, random) {
    const text = latin(bytes);
    const units = Uint16Array.from(text, (c) => c.charCodeAt(0));
    const utf16 = new Uint8Array(units.buffer);
    return pick(random, [
      () => Uint8Array.from([0xef, 0xbb, 0xbf, 0xef, 0xbb, 0xbf, ...bytes]),
      () => Uint8Array.from([0xff, 0xfe, ...utf16]),
      () => Uint8Array.from([0xfe, 0xff, ...utf16]),
      () => utf16.slice(below(random, 2)),
    ])();
  },
  function floatSample(bytes, random) {
    const copy = Uint8Array.from(bytes);
    if (copy.length < 16) return copy;
    const values = [Number.NaN, Number.POSITIVE_INFINITY, 1e308, -1e308, 1e200, 5e-324, -0];
    const at = 8 * below(random, Math.floor(copy.length / 8) - 1) + 4;
    new DataView(copy.buffer).setFloat64(at, pick(random, values), true);
    return copy;
  },
  function nest(bytes, random) {
    const depth = pick(random, [3, 99, 101, 3000]);
    const [open, close] = pick(random, [
      ['[', ']'],
      ['{"a":', '}'],
    ] as const);
    const text = latin(bytes);
    const at = text.search(/[[{]/) + 1;
    return bytesOf(
      text.slice(0, at) + open.repeat(depth) + (random() < 0.5 ? close.repeat(depth) : '') + text.slice(at),
    );
  },
];

/** Bytes as no well-meaning writer leaves them: of no kind at all, or a file that is taken, spoilt once to four times. */
export function hostileBytes({ valid }: Reader, random: Random): Uint8Array {
  if (random() < 0.1) return randomBytes(random);
  let bytes = pick(random, valid);
  for (let left = 1 + below(random, 4); left > 0; left--) bytes = pick(random, spoilers)(bytes, random);
  return bytes;
}
