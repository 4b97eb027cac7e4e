import { expect, test } from 'vitest';
import type { Curve } from '../../src/curve/curve.js';
import { shapeDigest } from '../../src/curve/shapeDigest.js';
import { readMeasurement } from '../../src/measurement/readMeasurement.js';

const rows = Array.from({ length: 40 }, (_, i) => [
  (20 * 2 ** (i / 4)).toFixed(3),
  (80 + 5 * Math.sin(1.7 * i)).toFixed(2),
]);
const read = (text: string, name = 'a.txt') => readMeasurement(new TextEncoder().encode(text), name).curve;
const plain = read(rows.map((row) => row.join(' ')).join('\n'));
const digest = shapeDigest(plain);

test('a file is the same however it is written', () => {
  const comma = rows.map((row) => row.join(';').replaceAll('.', ',')).join('\r\n');
  expect(shapeDigest(read(`\uFEFF# other words\r\n${comma}\r\n`, 'b.txt'))).toBe(digest);
  const tabs = rows.toReversed().map((row) => row.join('\t'));
  expect(shapeDigest(read(tabs.join('\n')))).toBe(digest);
  const khz = rows.map(([hz, db]) => `${(Number(hz) / 1000).toFixed(6)},${db}`);
  expect(shapeDigest(read(`Frequency (kHz),Level (dB)\n${khz.join('\n')}`))).toBe(digest);
});

test('it is that number on every machine, and at every level', () => {
  const three: Curve = {
    frequencyHz: Float64Array.of(20, 1000.5, 20000),
    levelDb: Float64Array.of(81.25, 80, 79.125),
  };
  // 32-bit FNV-1a over the UTF-16 units, low byte first, of "20480 0\n1024512 -1280\n20480000 -2176", worked out apart from it.
  expect(shapeDigest(three)).toBe('2cd45e8d');
  for (const byDb of [-81.25, 0.1, 7.3])
    expect(shapeDigest({ ...plain, levelDb: plain.levelDb.map((db) => db + byDb) })).toBe(digest);
});

test('other numbers are another measurement', () => {
  const at = (i: number, add: number) => (value: number, k: number) => (k === i ? value + add : value);
  expect(shapeDigest({ ...plain, levelDb: plain.levelDb.map(at(7, 0.01)) })).not.toBe(digest);
  expect(shapeDigest({ ...plain, levelDb: plain.levelDb.map(at(0, 0.01)) })).not.toBe(digest);
  expect(shapeDigest({ ...plain, frequencyHz: plain.frequencyHz.map(at(7, 0.01)) })).not.toBe(digest);
});
