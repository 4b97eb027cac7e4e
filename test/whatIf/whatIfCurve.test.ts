import { describe, expect, test } from 'vitest';
import { explainCurve, lateRippleDb } from '../../src/whatIf/explainCurve.js';
import { fittedSurfaces } from '../../src/whatIf/fittedSurfaces.js';
import { whatIfCurve } from '../../src/whatIf/whatIfCurve.js';
import { missDb, plainCase, whatIfCase } from '../evaluate/whatIfCases.js';

const SEEDS = [1, 2, 3, 4];

/** Medians over the cases: of the curve as predicted, and of the curve left as it is. */
function medians(cases: readonly ReturnType<typeof plainCase>[]) {
  const median = (values: number[]) => values.sort((a, b) => a - b)[values.length >> 1]!;
  return {
    predicted: median(
      cases.map(({ curve, range, setup, moved, there }) =>
        missDb(whatIfCurve(explainCurve(curve, range, setup)!, moved), there),
      ),
    ),
    asItIs: median(cases.map(({ curve, there }) => missDb(curve, there))),
  };
}

describe('whatIfCurve', () => {
  test('is the measured curve where nothing is moved', () => {
    const { curve, range, setup } = plainCase(7);
    const { levelDb } = whatIfCurve(explainCurve(curve, range, setup)!, setup);
    levelDb.forEach((db, i) => {
      expect(db).toBeCloseTo(curve.levelDb[i]!, 9);
    });
  });

  test('comes within 1.5 dB of the simulator among few surfaces, for moves up to a factor of two', () => {
    const { predicted, asItIs } = medians(
      SEEDS.map((seed) => whatIfCase(610000 + seed, { surroundings: 'few' })),
    );
    expect(predicted).toBeLessThan(1.5);
    expect(predicted).toBeLessThan(asItIs / 2);
  });

  test('does so among plain images of a source that is no sphere', () => {
    const { predicted, asItIs } = medians(SEEDS.map((seed) => plainCase(620000 + seed)));
    expect(predicted).toBeLessThan(1.5);
    expect(predicted).toBeLessThan(asItIs / 2);
  });

  test('knows how much of a curve the surfaces leave unexplained', () => {
    const ripple = (sample: ReturnType<typeof plainCase>) =>
      lateRippleDb(explainCurve(sample.curve, sample.range, sample.setup)!);
    expect(ripple(plainCase(7))).toBeLessThan(1);
    expect(ripple(whatIfCase(630003, { surroundings: 'room' }))).toBeGreaterThan(1.5);
  });

  test('leaves the treble as it was measured', () => {
    const { curve, range, setup, moved } = plainCase(9);
    const { frequencyHz, levelDb } = whatIfCurve(explainCurve(curve, range, setup)!, moved);
    frequencyHz.forEach((f, i) => {
      if (f > 3000) expect(levelDb[i]).toBeCloseTo(curve.levelDb[i]!, 9);
    });
  });

  test('finds the same side wall whether the tape has it right or 5 % too far', () => {
    const { curve, range, setup } = plainCase(11);
    const [behind, wall] = setup.surfaces;
    const trueM = wall!.speakerDistance.m;
    const found = [1, 1.05].map((factor) => {
      const off = ({ m }: { m: number }) => ({ m: factor * m, toleranceM: 0 });
      const said = {
        ...wall!,
        speakerDistance: off(wall!.speakerDistance),
        microphoneDistance: off(wall!.microphoneDistance),
      };
      return fittedSurfaces(explainCurve(curve, range, { ...setup, surfaces: [behind!, said] })!)[1]!;
    });
    expect(Math.abs(found[1]!.speakerDistanceM - found[0]!.speakerDistanceM)).toBeLessThan(0.02 * trueM);
  });

  test('cannot explain by surfaces where the set-up has none, or the curve too little', () => {
    const { curve, range, setup } = plainCase(7);
    expect(explainCurve(curve, range, { ...setup, surfaces: [] })).toBeUndefined();
    expect(explainCurve(curve, { fromHz: 5000, toHz: 9000 }, setup)).toBeUndefined();
  });
});
