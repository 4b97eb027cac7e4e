import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';

const src = fileURLToPath(new URL('../../src/', import.meta.url));
const files = readdirSync(src, { recursive: true, encoding: 'utf8' }).filter(
  (name) => /\.tsx?$/.test(name) && !name.startsWith('elementary'),
);
const withoutComments = (text: string) => text.replace(/\/\*[\s\S]*?\*\/|\/\/.*$/gm, '');

const ENGINES_OWN =
  /\bMath\.(a?(sin|cos|tan)h?|atan2|exp|expm1|log|log2|log10|log1p|pow|cbrt|hypot)\b|\}\s*=\s*Math\b/g;
/** Squares and whole powers of 2 are exact in every engine. */
const POWERS = /(?<!\b2 )\*\*(?! 2\b)|(?<=\b2 )\*\*(?! -?\d+\b(?!\.))/g;

test('whatever differs between engines in its last digit comes from src/elementary', () => {
  expect(files.length).toBeGreaterThan(100);
  const found = files.flatMap((name) => {
    const text = withoutComments(readFileSync(join(src, name), 'utf8'));
    return [...text.matchAll(ENGINES_OWN), ...text.matchAll(POWERS)].map(
      ({ 0: word, index }) => `${name} line ${text.slice(0, index).split('\n').length}: ${word}`,
    );
  });
  expect(found).toEqual([]);
});

test.each([
  ['Math.exp(x)', 1],
  ['const { sin } = Math;', 1],
  ['10 ** (db / 20)', 1],
  ['2 ** (1 / 3)', 1],
  ['2 ** x', 1],
  ['x ** 3', 1],
  ['x ** 2 + 2 ** 20 - 2 ** -12 + Math.sqrt(x)', 0],
])('finds it in %s', (text, count) => {
  expect([...text.matchAll(ENGINES_OWN), ...text.matchAll(POWERS)]).toHaveLength(count);
});
