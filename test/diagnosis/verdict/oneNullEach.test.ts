import { expect, test } from 'vitest';
import type { Feature } from '../../../src/diagnosis/features/detectFeatures.js';
import type { TakenNulls } from '../../../src/diagnosis/verdict/causeOf.js';
import type { Finding } from '../../../src/diagnosis/verdict/finding.js';
import { oneNullEach } from '../../../src/diagnosis/verdict/oneNullEach.js';

const dipAt = (frequencyHz: number): Feature => ({
  kind: 'dip',
  index: 0,
  frequencyHz,
  levelDb: -5,
  widthOctaves: 0.3,
  prominenceDb: 5,
  fromHz: frequencyHz / 1.1,
  toHz: frequencyHz * 1.1,
});
/** Lays a dip to the first of these cancellations that is free. */
const judgeBy =
  (surface: string, ...nullsHz: readonly number[]) =>
  (dip: Feature, taken: TakenNulls): Finding => {
    const predictedHz = nullsHz.find((hz) => !taken.has(`${surface}@${hz}`));
    return {
      kind: 'dip',
      frequencyHz: dip.frequencyHz,
      levelDb: dip.levelDb,
      widthOctaves: dip.widthOctaves,
      verdict: 'move',
      cause: { type: 'reflection', ...(predictedHz !== undefined && { surface, predictedHz }) },
      confidence: 0.9,
      evidence: [],
    };
  };

test('of dips laid to one cancellation the nearest keeps it and the others look elsewhere', () => {
  const dips = [dipAt(384), dipAt(503), dipAt(572)];
  const judged = oneNullEach(dips, judgeBy('side wall', 528, 440));
  expect(dips.map((dip) => judged.get(dip)?.cause.predictedHz)).toEqual([440, 528, undefined]);
});

test('what is laid to nothing, or each to its own, stays as it is', () => {
  const dips = [dipAt(300), dipAt(900)];
  const judged = oneNullEach(dips, (dip, taken) => judgeBy('wall behind', dip.frequencyHz)(dip, taken));
  expect(dips.map((dip) => judged.get(dip)?.cause.predictedHz)).toEqual([300, 900]);
  const none = oneNullEach(dips, judgeBy('wall behind'));
  expect([...none.values()].map(({ cause }) => cause)).toEqual([
    { type: 'reflection' },
    { type: 'reflection' },
  ]);
});
