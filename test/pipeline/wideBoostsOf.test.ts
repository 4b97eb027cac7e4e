import { expect, test } from 'vitest';
import type { Finding } from '../../src/diagnosis/verdict/finding.js';
import { wideBoostsOf } from '../../src/pipeline/wideBoostsOf.js';

const dip = (verdict: Finding['verdict'], other: Partial<Finding> = {}): Finding => ({
  kind: 'dip',
  frequencyHz: 1000,
  levelDb: -2,
  widthOctaves: 0.1,
  verdict,
  cause: { type: 'reflection' },
  confidence: 0.8,
  evidence: [],
  ...other,
});

test('boosts are held broad over dips that are not clearly the speaker’s, and half an octave to either side', () => {
  const { wideBoosts } = wideBoostsOf([dip('leave')]);
  expect(wideBoosts?.maxQ).toBeLessThan(4);
  expect(wideBoosts?.spans).toHaveLength(1);
  const { fromHz, toHz } = wideBoosts!.spans[0]!;
  expect(Math.log2(toHz / 1000)).toBeCloseTo(0.5, 9);
  expect(Math.log2(fromHz / 1000)).toBeCloseTo(-0.5, 9);
  const zone = { fromHz: 600, toHz: 1050 };
  const reach = wideBoostsOf([dip('move', { zone })]).wideBoosts!.spans[0]!;
  expect(reach).toEqual({ fromHz: 600, toHz: expect.closeTo(1000 * Math.SQRT2, 6) });
});

test('what mends a dip of the speaker’s in such a span may be as narrow as the dip', () => {
  const own = dip('equalize', { frequencyHz: 1100, widthOctaves: 0.2, cause: { type: 'speaker' } });
  const { spans } = wideBoostsOf([dip('leave'), own]).wideBoosts!;
  const isHeld = (hz: number) => spans.some(({ fromHz, toHz }) => hz >= fromHz && hz <= toHz);
  expect([800, 950, 1100, 1200, 1300].map(isHeld)).toEqual([true, true, false, false, true]);
});

test('they are not over the speaker’s own, however small, nor over peaks; a dip left by hand counts', () => {
  const speaker = { cause: { type: 'speaker' } } as const;
  expect(wideBoostsOf([dip('equalize'), dip('leave', speaker), dip('leave', { kind: 'peak' })])).toEqual({});
  expect(wideBoostsOf([dip('leave', { ...speaker, zone: { fromHz: 900, toHz: 1100 } })])).toHaveProperty(
    'wideBoosts',
  );
});
