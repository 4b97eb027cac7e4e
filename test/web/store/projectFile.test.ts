import fc from 'fast-check';
import { expect, test } from 'vitest';
import { fileBytes, projectFile } from '../../../web/store/projectFile.js';

const bytesOf = (text: string) => new TextEncoder().encode(text);

test('text is kept as text, with its byte-order mark and line ends', () => {
  const file = projectFile('a.txt', 'position', bytesOf('\ufeff20 80\r\n'));
  expect(file).toEqual({ name: 'a.txt', role: 'position', encoding: 'text', content: '\ufeff20 80\r\n' });
  expect(fileBytes(file)).toEqual(bytesOf('\ufeff20 80\r\n'));
});

test('bytes that are no UTF-8, and every WAV file, are kept in base64', () => {
  expect(projectFile('a.txt', 'position', Uint8Array.of(0xb5, 0x41)).encoding).toBe('base64');
  expect(projectFile('a.wav', 'after', bytesOf('RIFF....WAVE')).encoding).toBe('base64');
});

test('any bytes come back as they were', () => {
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 300 }), (bytes) => {
      expect(fileBytes(projectFile('x', 'position', bytes))).toEqual(bytes);
    }),
    { seed: 7, numRuns: 300 },
  );
});

test('bytes beyond one block come back too', () => {
  const bytes = Uint8Array.from({ length: 100_003 }, (_, i) => (i * 31 + (i >> 8)) & 255);
  const back = fileBytes(projectFile('x', 'position', bytes));
  expect(Buffer.compare(back, bytes)).toBe(0);
});
