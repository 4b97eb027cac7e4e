import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { sha256Base64 } from '../../../src/export/report/sha256Base64.js';

test('it gives the published digests', () => {
  // NIST, "Example values" for SHA-256 (one and two blocks), and the empty message of FIPS 180-4 validation.
  const published: [string, string][] = [
    ['abc', 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'],
    [
      'abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq',
      '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
    ],
    ['', 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855'],
  ];
  for (const [text, hex] of published) {
    expect(Buffer.from(sha256Base64(text), 'base64').toString('hex')).toBe(hex);
  }
});

test('it agrees with the platform on any text, at every length about a block', () => {
  const platform = (text: string) => createHash('sha256').update(text, 'utf8').digest('base64');
  for (let length = 50; length < 140; length += 1) {
    expect(sha256Base64('é'.repeat(length))).toBe(platform('é'.repeat(length)));
    expect(sha256Base64('x'.repeat(length))).toBe(platform('x'.repeat(length)));
  }
  fc.assert(
    fc.property(fc.string({ unit: 'grapheme', maxLength: 300 }), (text) => {
      expect(sha256Base64(text)).toBe(platform(text));
    }),
    { seed: 180 },
  );
});
