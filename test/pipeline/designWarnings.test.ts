import { describe, expect, test } from 'vitest';
import type { Finding } from '../../src/diagnosis/verdict/finding.js';
import { formatSignedDb } from '../../src/export/words/formatDb.js';
import { type DesignFacts, designWarnings } from '../../src/pipeline/designWarnings.js';
import { roundDb, roundFinding } from '../../src/pipeline/rounding.js';

const frequencyHz = Float64Array.from({ length: 200 }, (_, i) => 50 * 2 ** (i / 24));
const level = (db: number) => frequencyHz.map(() => db);

const quiet: DesignFacts = {
  findings: [],
  zones: [],
  cornerHz: 60,
  inputGainDb: 0,
  maxBoostDb: 6,
  maxLevelLossDb: 3,
  meanDb: -1,
  belowCornerDb: 0.1,
  frequencyHz,
  eqDb: level(0),
  filters: [],
  remainingDb: level(0.5),
};
const codes = (facts: Partial<DesignFacts>) => designWarnings({ ...quiet, ...facts }).map(({ code }) => code);

const dip: Finding = {
  kind: 'dip',
  frequencyHz: 321,
  levelDb: -7.4,
  widthOctaves: 0.4,
  verdict: 'move',
  cause: { type: 'reflection', surface: 'wall behind' },
  confidence: 0.9,
  evidence: [],
  advice: 'Move the speaker 20 cm out.',
};

describe('what a design warns of', () => {
  test('is nothing where there is nothing', () => {
    expect(codes({})).toEqual([]);
  });

  test('a null that is not boosted: which, by what, and what to do instead', () => {
    const [warning] = designWarnings({ ...quiet, findings: [dip] });
    expect(warning).toMatchObject({ code: 'null-not-boosted', frequencyHz: 321 });
    expect(warning!.message).toContain('−7.4 dB');
    expect(warning!.message).toContain('321 Hz');
    expect(warning!.message).toContain('"wall behind"');
    expect(warning!.message).toContain('Move the speaker 20 cm out.');
    expect(codes({ findings: [{ ...dip, verdict: 'equalize' }] })).toEqual([]);
    expect(codes({ findings: [{ ...dip, kind: 'peak', levelDb: 5 }] })).toEqual([]);
  });

  test('a null with the depth that its finding has', () => {
    const written = roundFinding({ ...dip, levelDb: -9.1487 });
    expect(formatSignedDb(written.levelDb)).toBe('-9.2 dB');
    const [warning] = designWarnings({ ...quiet, findings: [{ ...dip, levelDb: -9.1487 }] });
    expect(warning!.message).toContain('−9.2 dB');
  });

  test('a boost below the corner, with its frequency', () => {
    const [warning] = designWarnings({ ...quiet, belowCornerDb: 2.34 });
    expect(warning).toMatchObject({ code: 'boost-below-corner', frequencyHz: 60 });
    expect(warning!.message).toContain('2.3 dB');
    expect(codes({ belowCornerDb: 0.5 })).toEqual([]);
  });

  test('a target out of reach: where, and by how much', () => {
    const low = (from: number, to: number, db: number) =>
      frequencyHz.map((hz) => (hz >= from && hz <= to ? db : 0));
    const out = { eqDb: low(100, 200, 6), remainingDb: low(100, 200, -4.5) };
    const [warning] = designWarnings({ ...quiet, ...out });
    expect(warning!.code).toBe('target-out-of-reach');
    expect(warning!.message).toContain('4.5 dB');
    expect(warning!.frequencyHz).toBeGreaterThan(100);
    expect(warning!.frequencyHz).toBeLessThan(200);
    // Not where the EQ could give more, not in a zone, not for a sliver.
    expect(codes({ ...out, eqDb: low(100, 200, 3) })).toEqual([]);
    expect(codes({ ...out, zones: [{ fromHz: 90, toHz: 210 }] })).toEqual([]);
    const sliver = { eqDb: low(100, 108, 6), remainingDb: low(100, 108, -4.5) };
    expect(codes(sliver)).toEqual([]);
  });

  test('a level far from the measurement: by how much, and to which side', () => {
    const [over] = designWarnings({ ...quiet, remainingDb: level(37.26) });
    expect(over!.code).toBe('level-out-of-reach');
    expect(over!.message).toContain('37.3 dB over');
    const [under] = designWarnings({ ...quiet, remainingDb: level(-4.1) });
    expect(under!.message).toContain('4.1 dB under');
    expect(codes({ remainingDb: level(2.9) })).toEqual([]);
    // Half of the octaves, the lower ones, do not count.
    const half = frequencyHz[100]!;
    const lowerHalf = { fromHz: 1, toHz: half };
    const remainingDb = frequencyHz.map((hz) => (hz <= half ? 8 : 0));
    expect(codes({ remainingDb })).toEqual(['level-out-of-reach']);
    expect(codes({ remainingDb, zones: [lowerHalf] })).toEqual([]);
  });

  test('a level loss at its limit, unless none was allowed', () => {
    expect(codes({ meanDb: -2.98 })).toEqual(['level-loss-at-limit']);
    // The design has -2.95 dB, which its report shows as -3.0 dB.
    const [warning] = designWarnings({ ...quiet, meanDb: -2.94997, maxLevelLossDb: 2.95 });
    expect(formatSignedDb(roundDb(-2.94997))).toBe('-3.0 dB');
    expect(warning!.message).toContain('by 3.0 dB on average');
    expect(warning!.message).toContain('as much as is allowed');
    // Filters chosen by hand are held to no limit.
    const [beyond] = designWarnings({ ...quiet, meanDb: -3.8 });
    expect(beyond!.message).toMatch(/by 3\.8 dB on average, more than the 3\.0 dB that were allowed/);
    expect(codes({ meanDb: -2.9 })).toEqual([]);
    expect(codes({ meanDb: 0, maxLevelLossDb: 0 })).toEqual([]);
  });

  test('the headroom that a boost costs', () => {
    const [warning] = designWarnings({ ...quiet, inputGainDb: -3.21 });
    expect(warning!.code).toBe('headroom-used');
    expect(warning!.message).toContain('3.21 dB');
    expect(codes({ inputGainDb: -0.01 })).toEqual([]);
  });
});
