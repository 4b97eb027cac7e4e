import { describe, expect, test } from 'vitest';
import { verificationSvg } from '../../src/export/verificationSvg.js';
import { verificationText } from '../../src/export/verificationText.js';
import { verifyDesign } from '../../src/verify/verifyDesign.js';
import { bank, designOf, measuredWith } from '../verify/smallRoom.js';

const hostile = '<script>alert(1)</script>\u001b[31m ]]> & "x"';
const result = verifyDesign({
  design: { ...designOf(), title: hostile },
  after: measuredWith(bank.slice(1)),
});

describe('what verify shows', () => {
  test('the drawing holds three curves and their difference, escaped', () => {
    const svg = verificationSvg(result);
    expect(svg).toMatch(/^<svg [\s\S]*<\/svg>\n$/);
    expect(svg).not.toContain('<script>');
    expect(svg).not.toContain(']]>');
    expect(svg).not.toMatch(/NaN|Infinity|undefined/);
    expect(svg.match(/<path/g)?.length).toBe(5);
    expect(svg).toContain('Not as promised');
  });

  test('the text is plain, at most a hundred wide, verdict before fault before table', () => {
    const text = verificationText(result);
    expect(text).not.toContain('\u001b');
    expect(Math.max(...text.split('\n').map((line) => line.length))).toBeLessThanOrEqual(100);
    const at = (words: string) => text.indexOf(words);
    expect(at('NOT as promised')).toBeGreaterThan(0);
    expect(at('Filter 1')).toBeGreaterThan(at('NOT as promised'));
    expect(at('Octave')).toBeGreaterThan(at('What to do'));
  });
});
