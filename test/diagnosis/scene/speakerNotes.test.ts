import { expect, test } from 'vitest';
import { boxLevelDb } from '../../../src/acoustics/boxRolloff.js';
import { sphereStepDb } from '../../../src/acoustics/sphereBaffle.js';
import { logGrid } from '../../../src/curve/logGrid.js';
import { diagnose } from '../../../src/diagnosis/diagnose.js';
import { bankResponseDb } from '../../../src/filter/bankResponseDb.js';

const frequencyHz = logGrid(20, 20000);
const baffleWidthM = 0.18;
const speedOfSoundMs = 343.2;

/** A vented box at 50 Hz behind a front 18 cm wide, `share` of whose step is left. */
function notesWith(share: number): readonly string[] {
  const levelDb = frequencyHz.map(
    (f) =>
      boxLevelDb(f, { kind: 'vented', cornerHz: 50 }) +
      share * sphereStepDb((Math.PI * baffleWidthM * f) / speedOfSoundMs),
  );
  return diagnose({
    curve: { frequencyHz, levelDb },
    range: { fromHz: 45, toHz: 20000 },
    setup: {
      temperatureC: 20,
      microphoneDistance: { m: 1, toleranceM: 0 },
      baffleWidthM,
      surfaces: [],
      lengthUnit: 'cm',
    },
  }).notes;
}

test('the box is told with about its corner, which the range tells more closely, and its slope', () => {
  expect(notesWith(0)[0]).toMatch(
    /^Below about 5\d Hz the level falls as a vented box does, by 24 dB per octave\.$/,
  );
});

test('a step that is still there, one that is made good and one that is overdone are told apart, in dB', () => {
  expect(notesWith(1)[1]).toMatch(/rises by [45]\.\d dB: the step is not made good/);
  // The fit makes it good already; a bass shelf in the target would come on top of that.
  expect(notesWith(1)[1]).toMatch(/filters that aim at a flat target do it/);
  expect(notesWith(0.45)[1]).toContain('made good in part');
  expect(notesWith(0)[1]).toMatch(
    /(rises|falls) by 0\.\d dB: the step is made good, most likely in the maker/,
  );
  expect(notesWith(-0.6)[1]).toMatch(/falls by \d\.\d dB: more than made good/);
});

test('a corner that dips and peaks hide is told with its bounds and the better one to be had', () => {
  const own = bankResponseDb(
    [
      { type: 'peaking', frequencyHz: 55, gainDb: 5, q: 3 },
      { type: 'peaking', frequencyHz: 90, gainDb: -6, q: 1 },
      { type: 'peaking', frequencyHz: 160, gainDb: 6, q: 2 },
    ],
    48000,
    frequencyHz,
  );
  const box = { kind: 'sealed', resonanceHz: 70, qtc: 0.7 } as const;
  const levelDb = frequencyHz.map((f, i) => boxLevelDb(f, box) + own[i]!);
  const { notes } = diagnose({ curve: { frequencyHz, levelDb }, range: { fromHz: 60, toHz: 20000 } });
  const [, from, to, taken] = notes
    .join(' ')
    .match(
      /not well determined: by this curve it may lie anywhere from (\d+) Hz to (\d+) Hz, and (\d+) Hz .*--from/,
    )!;
  expect(Number(from)).toBeLessThan(70);
  expect(Number(to)).toBeGreaterThan(70);
  expect(Number(taken)).toBeGreaterThan(Number(from));
  expect(notesWith(0).join(' ')).not.toContain('not well determined');
});
