import { expect, test } from 'vitest';
import { deviceQWords } from '../../src/export/deviceWords.js';
import type { QConventionName } from '../../src/filter/qConventions.js';
import { sampleDesign } from './sampleDesign.js';

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
