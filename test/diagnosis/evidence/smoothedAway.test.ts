import { expect, test } from 'vitest';
import { logGrid } from '../../../src/curve/logGrid.js';
import { resampleToGrid } from '../../../src/curve/resampleToGrid.js';
import { smoothOctave } from '../../../src/curve/smoothOctave.js';
import { diagnose } from '../../../src/diagnosis/diagnose.js';
import { bell, type Response, sum } from '../../pipeline/samples.js';

const frequencyHz = logGrid(20, 20000);
const range = { fromHz: 60, toHz: 18000 };
const fineHz = logGrid(20, 20000, 960);

/** What is found at a place in a curve that was smoothed over `width`, told of it or not. */
function dipAt(hz: number, response: Response, width: number, told: boolean) {
  const smoothed = smoothOctave({ frequencyHz: fineHz, levelDb: fineHz.map(response) }, width);
  const curve = resampleToGrid(smoothed, frequencyHz);
  const { findings } = diagnose({ curve, range, ...(told && { smoothedOverOctaves: width }) });
  return findings
    .filter(({ kind }) => kind === 'dip')
    .reduce((a, b) => (Math.abs(b.frequencyHz - hz) < Math.abs(a.frequencyHz - hz) ? b : a));
}

test('a dip that smoothing over 1/3 octave does not resolve is left, and an unsmoothed curve is asked for', () => {
  const narrow = bell(3000, -5, 5);
  expect(dipAt(3000, narrow, 1 / 3, false)).toMatchObject({
    verdict: 'equalize',
    cause: { type: 'speaker' },
  });
  const dip = dipAt(3000, narrow, 1 / 3, true);
  expect(dip).toMatchObject({ verdict: 'leave', cause: { type: 'unknown' } });
  expect(dip.widthOctaves).toBeLessThan(0.5);
  expect(dip.evidence[0]).toMatch(
    /smoothed over 1\/3 octave before it was read, and this dip is 0\.\d\d octaves wide/,
  );
  expect(dip.evidence.join(' ')).toMatch(/the curve was smoothed too widely to tell/);
  expect(dip.advice).toMatch(/without smoothing/);
});

test('a dip far wider than the smoothing is the speaker’s still', () => {
  const broad = sum(bell(3000, -6, 0.9), bell(300, 2, 3));
  expect(dipAt(3000, broad, 1 / 3, true)).toMatchObject({ verdict: 'equalize', cause: { type: 'speaker' } });
});

test.each([[1 / 24], [1 / 12]])(
  'smoothing over %f octave takes nothing from a dip: ripple is left to tell by',
  (width) => {
    const own = bell(3000, -5, 4);
    expect(dipAt(3000, own, width, true)).toEqual(dipAt(3000, own, width, false));
  },
);
