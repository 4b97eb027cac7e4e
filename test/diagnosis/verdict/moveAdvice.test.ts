import { describe, expect, test } from 'vitest';
import { logGrid } from '../../../src/curve/logGrid.js';
import { diagnose } from '../../../src/diagnosis/diagnose.js';
import { bell, type Response, sum } from '../../pipeline/samples.js';

const frequencyHz = logGrid(20, 20000);
const range = { fromHz: 60, toHz: 18000 };
const curveOf = (response: Response) => ({ frequencyHz, levelDb: frequencyHz.map(response) });
/** Ripple of the room's, another in each place, in which one dip is neither clearly the speaker's nor the placement's. */
const ripple =
  (turn: number): Response =>
  (hz) =>
    1.2 * Math.cos(hz / 31 + turn) + 0.9 * Math.cos(hz / 83 + 2 * turn);
const dip = bell(420, -4.5, 6);
const here = curveOf(sum(dip, ripple(0)));
const adviceFor = (moved: readonly Response[]) =>
  diagnose({ curve: here, range, ...(moved.length > 0 && { moved: moved.map(curveOf) }) }).findings.find(
    (f) => f.kind === 'dip' && Math.abs(Math.log2(f.frequencyHz / 420)) < 0.08,
  );

describe('what to do next', () => {
  test('is to measure elsewhere where that was not done', () => {
    expect(adviceFor([])?.advice).toMatch(/10 to 20 cm/);
  });

  test.each([
    ['stayed', [sum(dip, ripple(1))]],
    ['stayed twice', [sum(dip, ripple(1)), sum(dip, ripple(2))]],
    ['went', [ripple(1)]],
    ['changed', [sum(bell(420, -2.6, 6), ripple(1))]],
  ])('is never what was done already: where it %s', (_, moved) => {
    const finding = adviceFor(moved);
    expect(finding).toBeDefined();
    expect(finding?.advice ?? '').not.toMatch(/10 to 20 cm/);
  });

  test('is a longer way for long waves', () => {
    // A reflection of 0.6, 8.77 ms late: nulls at 57 and 171 Hz.
    const late: Response = (hz) => 10 * Math.log10(1.36 + 1.2 * Math.cos(2 * Math.PI * hz * 0.00877));
    const { findings } = diagnose({ curve: curveOf(late), range: { fromHz: 30, toHz: 18000 } });
    const at = (hz: number) =>
      findings.find((f) => f.kind === 'dip' && Math.abs(Math.log2(f.frequencyHz / hz)) < 0.1);
    expect(at(57)?.advice).toMatch(/by 30 to 50 cm/);
    expect(at(171)?.advice).toMatch(/by 10 to 20 cm/);
  });

  test('takes up where a dip that went is gone', () => {
    expect(adviceFor([ripple(1)])?.advice).toMatch(/gone from .*: choose the place/);
  });
});
