import { describe, expect, test } from 'vitest';
import { verificationSvg } from '../../../src/export/plot/verificationSvg.js';
import { verificationText } from '../../../src/export/text/verificationText.js';
import { verifyDesign } from '../../../src/verify/verifyDesign.js';
import { bank, designOf, measuredWith } from '../../verify/smallRoom.js';

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

  test('the level axis spans what lies in the range, whatever the fall outside it', () => {
    const { curves } = result;
    expect(curves.frequencyHz[0]).toBeLessThan(result.range.fromHz);
    const fallen = (values: readonly number[]) =>
      values.map((db, i) => (curves.frequencyHz[i]! < result.range.fromHz ? -300 : db));
    const svg = verificationSvg({
      ...result,
      curves: { ...curves, beforeDb: fallen(curves.beforeDb), measuredDb: fallen(curves.measuredDb) },
    });
    const labels = [...svg.matchAll(/<text[^>]* y="([\d.]+)">([−\d]+)<\/text>/g)];
    expect(labels.length).toBeGreaterThan(5);
    for (const [, y, label] of labels) {
      expect(Number(y), label).toBeGreaterThan(104);
      expect(Number(label!.replace('−', '-')), label).toBeGreaterThan(-60);
    }
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
