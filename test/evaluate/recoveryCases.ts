import type { Filter } from '../../src/filter/filter.js';
import { seededRandom } from '../../src/fit/seededRandom.js';

export const RECOVERY = {
  gainDb: { least: 2, most: 8 },
  q: { least: 0.6, most: 6 },
  spacingOctaves: 1 / 3,
  fromHz: 40,
  toHz: 16000,
} as const;

/**
 * K random peaking filters: ±2 to 8 dB, Q 0.6 to 6, at least a third of an octave apart. A curve of minus their sum can
 * be made flat by them, so that whatever a fit of K bands leaves is the search's own shortcoming.
 */
export function recoveryCase(bands: number, seed: number): Filter[] {
  const random = seededRandom(seed * 977 + bands);
  const { gainDb, q, fromHz, toHz, spacingOctaves } = RECOVERY;
  const frequenciesHz: number[] = [];
  while (frequenciesHz.length < bands) {
    const hz = fromHz * (toHz / fromHz) ** random();
    if (frequenciesHz.every((other) => Math.abs(Math.log2(other / hz)) >= spacingOctaves)) {
      frequenciesHz.push(hz);
    }
  }
  return frequenciesHz.map((frequencyHz) => ({
    type: 'peaking',
    frequencyHz,
    gainDb: (random() < 0.5 ? -1 : 1) * (gainDb.least + (gainDb.most - gainDb.least) * random()),
    q: q.least * (q.most / q.least) ** random(),
  }));
}
