import { expect, test } from 'vitest';
import { deviceCostWords, deviceQWords } from '../../../src/export/words/deviceWords.js';
import type { QConventionName } from '../../../src/filter/qConventions.js';
import { sampleDesign } from '../sampleDesign.js';

function wordsFor(qConvention: QConventionName): string {
  const band = (type: 'peaking' | 'lowShelf' | 'highShelf', number: number) => ({
    band: number,
    type,
    frequencyHz: 100 * number,
    gainDb: 2,
    q: 1,
  });
  return deviceQWords({
    ...sampleDesign(),
    device: { name: 'x', sampleRatesHz: [48000], qConvention },
    deviceSettings: [band('lowShelf', 1), band('peaking', 2), band('highShelf', 3)],
  })!;
}

test('what to enter is told once for all types that mean the same by it', () => {
  expect(wordsFor('bandwidthHz')).toMatch(/^Low shelf and high shelf: Q of .*\. Peaking: bandwidth in Hz/);
  expect(wordsFor('poleQMirrored')).toMatch(/^Q of the poles of a boost/);
});

test('what rounding to it costs is the difference of the two figures beside it, as they are shown', () => {
  const words = (unroundedRmsDb: number, roundedRmsDb: number, costDb: number) =>
    deviceCostWords({
      ...sampleDesign(),
      device: { name: 'x', sampleRatesHz: [48000], qConvention: 'cookbook' },
      deviceCost: { unroundedRmsDb, roundedRmsDb, costDb },
    });
  expect(words(0.174, 0.386, 0.212)).toBe(
    'x; rounding to it costs 0.22 dB RMS (0.17 dB without, 0.39 dB with it)',
  );
  expect(words(0.651, 0.649, -0.002)).toBe(
    'x; rounding to it costs 0.00 dB RMS (0.65 dB without, 0.65 dB with it)',
  );
});
