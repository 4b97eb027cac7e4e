import { seededRandom } from '../../src/fit/seededRandom.js';
import { loadUnitEngine } from '../../src/units/unitEngine.js';
import { judgeReading } from './judgeReading.js';
import { type Reader, readers } from './readers.js';

// tsx test/fuzz/memory.ts [MiB]: what each reader adds to the greatest memory of the process, as a multiple of a large file;
// one line of JSON for each file. The maximum never falls, so a later reader shows only what it needs beyond the ones before.
// The last line tells the greatest memory in MB.

const SIZE = Number(process.argv[2] ?? 6) * 2 ** 20;

/** Lists and objects of many small things, and of so few that a reader looks at each. */
const MANY: Readonly<Record<string, (count: number) => string>> = {
  numbers: (count) => `[${'0, '.repeat(count)}0]`,
  'empty objects': (count) => `[${'{},'.repeat(count)}{}]`,
  'small objects': (count) => `[${'{"a":1},'.repeat(count)}{}]`,
  keys: (count) => `{${Array.from({ length: count }, (_, i) => `"${i}":1`).join()}}`,
};
const FEW = 16_000;

/** Files of `SIZE` bytes: one that is mostly as it should be, and one that is not. */
function largeFiles({ kind, valid }: Reader): readonly (readonly [string, Uint8Array])[] {
  const first = valid[0]!;
  const random = seededRandom(1);
  const noise = Uint8Array.from({ length: SIZE }, () => Math.floor(256 * random()));
  switch (kind) {
    case 'rows':
      return [
        ['repeated', repeated(first)],
        ['noise', noise],
      ];
    case 'json':
      return [...hostileJson(first), ['nested', encoded('['.repeat(SIZE))], ['noise', noise]];
    case 'binary': {
      // The header stays, so that the samples are those of a file cut short, or of a long one whose header is old.
      const long = noise.slice();
      long.set(first.subarray(0, 44));
      new DataView(long.buffer).setUint32(40, SIZE - 44, true);
      new DataView(long.buffer).setUint32(4, SIZE - 8, true);
      const lying = first.slice();
      new DataView(lying.buffer).setUint32(40, 0xffff_fff0, true);
      return [
        ['long', long],
        ['lying header', lying],
      ];
    }
  }
}

/** The first file with an unknown key that holds very many things, and with each of its lists made of many. */
function hostileJson(valid: Uint8Array): (readonly [string, Uint8Array])[] {
  const text = new TextDecoder().decode(valid).trim();
  const lists = Object.entries(JSON.parse(text) as Record<string, unknown>)
    .filter(([, value]) => Array.isArray(value))
    .map(([key]) => key);
  const made = (key: string, name: string, count: number): [string, Uint8Array] => {
    const rest: Record<string, unknown> = JSON.parse(text);
    delete rest[key];
    const end = JSON.stringify(rest).slice(1);
    return [`${key}: ${name}, ${count}`, encoded(`{"${key}": ${MANY[name]!(count)}, ${end}`)];
  };
  return [
    ...Object.keys(MANY).map((name) => made('x', name, SIZE / 8)),
    ...lists.map((key) => made(key, 'small objects', FEW)),
  ];
}

const encoded = (text: string) => new TextEncoder().encode(text);

function repeated(part: Uint8Array): Uint8Array {
  const whole = new Uint8Array(SIZE);
  for (let at = 0; at < SIZE; at += part.length) whole.set(part.subarray(0, SIZE - at), at);
  return whole;
}

await loadUnitEngine();
for (const reader of readers) {
  for (const bytes of reader.valid) judgeReading(reader, bytes);
}
for (const reader of readers) {
  for (const [name, bytes] of largeFiles(reader)) {
    const before = process.resourceUsage().maxRSS;
    const { did, fault } = judgeReading(reader, bytes);
    const addedBytes = 1024 * (process.resourceUsage().maxRSS - before);
    console.log(
      JSON.stringify({
        reader: reader.name,
        file: name,
        did,
        ...(fault !== undefined && { fault }),
        times: Number((addedBytes / SIZE).toFixed(1)),
      }),
    );
  }
}
console.log(JSON.stringify({ greatestMb: Math.round(process.resourceUsage().maxRSS / 1024) }));
