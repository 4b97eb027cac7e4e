import { expect, test } from 'vitest';
import { design } from '../../src/design.js';
import { bassCautions } from '../../src/pipeline/bassBoost.js';
import { withFilters } from '../../src/pipeline/withFilters.js';
import { curveOf, measurementOf, requestOf, sum, ventedFall } from './samples.js';

/** A bank whose sum has its greatest, of `maxDb`, at `atHz` and nothing elsewhere. */
const peakAt = (maxDb: number, atHz: number) => (fromHz: number, toHz: number) =>
  fromHz <= atHz && atHz <= toHz ? { maxDb, atHz } : { maxDb: 0, atHz: fromHz };
const given = { fromHz: 90 };
const codesOf = (warnings: readonly { code: string }[]) => warnings.map(({ code }) => code);

test('a boost above a known corner is told with what it asks of cone and amplifier', () => {
  const [warning, ...others] = bassCautions(given, 94, peakAt(9, 98));
  expect(others).toEqual([]);
  expect(warning?.code).toBe('bass-boost');
  // 10^(9/20) and 10^(9/10).
  expect(warning!.message).toMatch(
    /9\.0 dB at 98 Hz.*corner at 94 Hz.*2\.8 times the cone travel.*7\.9 times the power/,
  );
  expect(warning!.message).toMatch(/maker rates/);
  expect(codesOf(bassCautions(given, undefined, peakAt(6, 60)))).toEqual(['bass-boost']);
});

test('a small boost and one above the lowest octave are not, and none is told twice', () => {
  expect(bassCautions(given, 94, peakAt(2.5, 98))).toEqual([]);
  expect(bassCautions(given, 94, peakAt(9, 250))).toEqual([]);
  expect(codesOf(bassCautions({}, 94, peakAt(9, 98)))).toEqual(['corner-in-room']);
});

test('a design with a lower end that was given carries it, and so does one boosted by hand', () => {
  const curve = curveOf(sum(() => 80, ventedFall(60)));
  const request = requestOf(measurementOf(curve), { effort: 'quick', fromHz: 65 });
  const lifted = design({ ...request, target: { bassShelfDb: 6, bassShelfFrequencyHz: 120 } });
  expect(lifted.warnings.find(({ code }) => code === 'bass-boost')?.frequencyHz).toBeGreaterThan(55);
  const plain = design(request);
  expect(codesOf(plain.warnings)).not.toContain('bass-boost');
  const filter = { type: 'peaking', frequencyHz: 75, gainDb: 6, q: 1 } as const;
  expect(codesOf(withFilters(plain, [filter]).warnings)).toContain('bass-boost');
  expect(codesOf(withFilters(lifted, []).warnings)).not.toContain('bass-boost');
});
