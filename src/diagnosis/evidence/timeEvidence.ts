import { log } from '../../elementary/logarithm.js';
import { formatFrequency } from '../../units/formatFrequency.js';
import { formatLength } from '../../units/formatLength.js';
import { clip } from '../features/clip.js';
import type { Feature } from '../features/detectFeatures.js';
import type { Scene } from '../scene/scene.js';
import type { Evidence } from './evidence.js';

/** A reflection this weak leaves no dip worth a verdict: 0.2 in amplitude, some 3.5 dB from top to bottom. */
const WEAKEST_DB = -14;
/** 0.4 of the direct sound. */
const STRONG_DB = -8;
const SAME_SHARE = 0.05;
const ORDERS = [1, 2, 3];

/** A reflection seen in the impulse response names the dips of its comb: (2n−1)/(2τ). */
export function timeEvidence({ frequencyHz }: Feature, { input }: Scene): Evidence | undefined {
  const hit = (input.reflections ?? [])
    .filter(({ levelDb }) => levelDb >= WEAKEST_DB)
    .flatMap((reflection) =>
      ORDERS.map((order) => ({ reflection, hz: (2 * order - 1) / (2 * reflection.delayS) })),
    )
    .filter(({ hz }) => Math.abs(log(hz / frequencyHz)) < SAME_SHARE)
    .sort((a, b) => b.reflection.levelDb - a.reflection.levelDb)[0];
  if (!hit) return undefined;
  const { delayS, levelDb, pathDifferenceM } = hit.reflection;
  const length = formatLength(pathDifferenceM, input.setup?.lengthUnit ?? 'cm');
  return {
    label: 'the impulse response',
    terms: [{ name: 'seenInTime', value: clip((levelDb - WEAKEST_DB) / (STRONG_DB - WEAKEST_DB), 0, 1) }],
    sentence: `A reflection ${(1000 * delayS).toFixed(2)} ms after the direct sound (${levelDb.toFixed(1)} dB, a path ${length} longer) cancels at ${formatFrequency(hit.hz)}.`,
  };
}
