import { describe, expect, test } from 'vitest';
import type { Filter } from '../../src/filter/filter.js';
import { verifyDesign } from '../../src/verify/verifyDesign.js';
import { bank, designOf, measuredWith } from './smallRoom.js';

/** A broad one at the edge of the range looks much like what two microphones differ by. */
const filters: readonly Filter[] = [...bank, { type: 'highShelf', frequencyHz: 9000, gainDb: 5, q: 0.5 }];
const tones: readonly (readonly [string, (hz: number) => number])[] = [
  ['4 dB more treble', (hz) => 4 / (1 + (8000 / hz) ** 2)],
  ['4 dB less treble', (hz) => -4 / (1 + (8000 / hz) ** 2)],
  ['a tilt', (hz) => 0.5 * Math.log2(hz / 1000)],
];
const microphone = { frequencyHz: Float64Array.of(20, 1000, 20000), levelDb: Float64Array.of(0, 0, 1) };

describe.each(tones)('where another calibration is known of: %s', (_, toneDb) => {
  const check = (actual: readonly Filter[]) => {
    const plain = measuredWith(actual, { seed: 3 });
    const after = { ...plain, levelDb: plain.levelDb.map((db, i) => db + toneDb(plain.frequencyHz[i]!)) };
    const design = { ...designOf(filters), calibration: { digest: 'of another microphone' } };
    return verifyDesign({ design, after, calibration: { curve: microphone } });
  };

  test('no filter is accused of it, and the tone is told', () => {
    const { faults, warnings } = check(filters);
    expect(faults).toHaveLength(1);
    expect(faults[0]!.message).toMatch(/^The tone of the whole has changed/);
    expect(faults[0]!.explains).toBeGreaterThan(0.8);
    expect(warnings.find(({ code }) => code === 'other-calibration')!.message).toContain(
      'laid to no single filter',
    );
  });

  test('a filter that is missing is named all the same', () => {
    const { faults } = check(filters.toSpliced(2, 1));
    const named = faults.filter(({ filter }) => filter !== undefined);
    expect(named).toHaveLength(1);
    expect(named[0]).toMatchObject({ type: 'filterMissing', filter: 2 });
  });
});
