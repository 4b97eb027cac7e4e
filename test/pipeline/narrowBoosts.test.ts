import { expect, test } from 'vitest';
import { logGrid } from '../../src/curve/logGrid.js';
import type { Finding } from '../../src/diagnosis/verdict/finding.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { Filter } from '../../src/filter/filter.js';
import { narrowBoosts } from '../../src/pipeline/narrowBoosts.js';

const frequencyHz = logGrid(100, 10000);
const peak = (hz: number, gainDb: number, q: number): Filter => ({
  type: 'peaking',
  frequencyHz: hz,
  gainDb,
  q,
});
const eq = (...filters: Filter[]) => bankResponseDb(filters, 48000, frequencyHz);
const dip = (hz: number, verdict: Finding['verdict']): Finding => ({
  kind: 'dip',
  frequencyHz: hz,
  levelDb: -4,
  widthOctaves: 0.15,
  verdict,
  cause: { type: verdict === 'equalize' ? 'speaker' : 'reflection' },
  confidence: 0.8,
  evidence: [],
});

test('narrow boosts without a dip of the speaker behind them are told with place and height, the strongest first', () => {
  const [warning, ...others] = narrowBoosts(frequencyHz, eq(peak(1000, 3, 8), peak(3000, 5, 10)), []);
  expect(others).toEqual([]);
  expect(warning?.code).toBe('narrow-boost');
  expect(warning?.message).toContain('+5.0 dB at 3 kHz, +3.0 dB at 1 kHz');
  expect(Math.abs(Math.log2(warning!.frequencyHz! / 3000))).toBeLessThan(0.01);
});

test('wide boosts, cuts, small ones, and those that mend a dip of the speaker are not', () => {
  const none = (filters: Filter[], findings: Finding[] = []) =>
    expect(narrowBoosts(frequencyHz, eq(...filters), findings)).toEqual([]);
  none([peak(1000, 6, 1.5), peak(3000, -6, 10)]);
  none([peak(1000, 0.9, 8)]);
  // There no hand's breadth away would anything be else.
  none([peak(200, 5, 8)]);
  // A narrow hump on a broad cut lifts nothing above what was there.
  none([peak(1000, -6, 0.7), peak(1000, 5, 8)]);
  none([peak(3000, 5, 10)], [dip(3050, 'equalize')]);
  expect(narrowBoosts(frequencyHz, eq(peak(3000, 5, 10)), [dip(3050, 'leave')])).toHaveLength(1);
});

test('a single band that rises narrowly out of a cut is told by its own gain, once, and not where it mends a dip', () => {
  const filters = [peak(1000, -6, 0.7), peak(1000, 5, 8)];
  const told = (findings: Finding[], bank = filters) =>
    narrowBoosts(frequencyHz, eq(...bank), findings, bank).map(({ message }) => message);
  expect(told([])).toEqual([expect.stringContaining('+5.0 dB at 1 kHz.')]);
  expect(told([dip(1000, 'equalize')])).toEqual([]);
  // Seen in the sum already.
  expect(told([], [peak(3000, 5, 8)])).toEqual([expect.stringMatching(/: \+5\.0 dB at 3 kHz\. /)]);
  // As broad as half an octave, or small.
  expect(told([], [peak(1000, -6, 0.7), peak(1000, 5, 3), peak(2000, 1, 10)])).toEqual([]);
});
