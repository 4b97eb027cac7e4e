import { expect, test } from 'vitest';
import { design } from '../../src/design.js';
import { quietPositions } from '../../src/pipeline/quietPositions.js';
import { bell, curveOf, measurementOf, requestOf } from './samples.js';

const at = (levelDb: number) => curveOf((hz) => levelDb + bell(700, 6, 2)(hz));
const names = ['near.txt', 'far.txt', 'other.txt'];

test('a position far below the loudest is told of, with what it still counts', () => {
  const [warning, ...others] = quietPositions([at(80), at(60), at(74)], names);
  expect(others).toEqual([]);
  expect(warning!.code).toBe('position-too-quiet');
  // 10^(-20/10) of the power.
  expect(warning!.message).toMatch(/^far\.txt lies 20\.0 dB below near\.txt .* it has 1 % of its say/);
  expect(quietPositions([at(-20), at(80)], names)[0]!.message).toContain('less than 1 %');
});

test('positions at twice the distance, and a single one, are not', () => {
  expect(quietPositions([at(80), at(74), at(72)], names)).toEqual([]);
  expect(quietPositions([at(-60)], names)).toEqual([]);
});

test('a design carries the warning', () => {
  const codes = (otherDb: number) =>
    design(
      requestOf([measurementOf(at(80), 'near.txt'), measurementOf(at(otherDb), 'far.txt')], {
        bands: 1,
        effort: 'quick',
      }),
    ).warnings.map(({ code }) => code);
  expect(codes(62)).toContain('position-too-quiet');
  expect(codes(79)).not.toContain('position-too-quiet');
});
