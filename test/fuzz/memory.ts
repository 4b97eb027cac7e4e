import { seededRandom } from '../../src/fit/seededRandom.js';
import { loadUnitEngine } from '../../src/units/unitEngine.js';
import { judgeReading } from './judgeReading.js';
import { type Reader, readers } from './readers.js';

// tsx test/fuzz/memory.ts: what each reader adds to the greatest memory of the process, as a multiple of a large file;
// one line of JSON for each file. The maximum never falls, so a later reader shows only what it needs beyond the ones before.

const SIZE = 6 * 2 ** 20;

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
    case 'json': {
      const list = `{"x": [${'0, '.repeat(SIZE / 3)}0], ${new TextDecoder().decode(first).trim().slice(1)}`;
      return [
        ['long list', new TextEncoder().encode(list)],
        ['nested', new TextEncoder().encode('['.repeat(SIZE))],
        ['noise', noise],
      ];
    }
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
        fault,
        times: Number((addedBytes / SIZE).toFixed(1)),
      }),
    );
  }
}
