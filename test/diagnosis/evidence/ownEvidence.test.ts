import { expect, test } from 'vitest';
import { logGrid } from '../../../src/curve/logGrid.js';
import { diagnose } from '../../../src/diagnosis/diagnose.js';
import { roughAround } from '../../../src/diagnosis/evidence/ownEvidence.js';
import { roughnessAround } from '../../../src/diagnosis/evidence/roughnessAround.js';
import type { DiagnosisInput } from '../../../src/diagnosis/scene/diagnosisInput.js';
import { findFeatures } from '../../../src/diagnosis/scene/findFeatures.js';
import { describeScene } from '../../../src/diagnosis/scene/scene.js';
import { bell, type Response, sum } from '../../pipeline/samples.js';

const frequencyHz = logGrid(20, 20000);
const range = { fromHz: 60, toHz: 18000 };
const PEAK_HZ = 5000;
const inputOf = (response: Response): DiagnosisInput => ({
  curve: { frequencyHz, levelDb: frequencyHz.map(response) },
  range,
});
const own = bell(PEAK_HZ, 4, 4);
/** Wider than what counts as ripple, an octave and more below the peak and of other widths in hertz: neither its calm nor its company. */
const swings = sum(bell(1300, 5, 3), bell(1700, -5, 3), bell(2150, 5, 4));

function peakIn(input: DiagnosisInput) {
  const scene = describeScene(input);
  const peak = findFeatures(scene).find(
    (feature) => feature.kind === 'peak' && Math.abs(feature.frequencyHz / PEAK_HZ - 1) < 0.03,
  )!;
  return { scene, peak };
}

function judgedIn(input: DiagnosisInput): { readonly probability: number; readonly told: string } {
  const { cause, confidence, evidence } = diagnose(input).findings.find(
    ({ kind, frequencyHz: hz }) => kind === 'peak' && Math.abs(hz / PEAK_HZ - 1) < 0.03,
  )!;
  return { probability: cause.type === 'speaker' ? confidence : 1 - confidence, told: evidence.join(' ') };
}

test('swings more than an octave away make a curve rough, though they are no ripple', () => {
  const calm = peakIn(inputOf(own));
  const rough = peakIn(inputOf(sum(own, swings)));
  const roughIn = ({ peak, scene }: ReturnType<typeof peakIn>) => roughAround(peak, scene);
  expect(roughIn(rough)).toBeGreaterThan(roughIn(calm) + 1);
  expect(roughIn(rough)).toBeGreaterThan(0);
  expect(roughIn(calm)).toBeLessThan(0);
});

test('a peak is the less the speaker’s the rougher the curve is that it stands in', () => {
  // Without ripple nothing of one curve would make it less than as sure as one curve makes it.
  const small = sum(bell(PEAK_HZ, 3, 5), (hz) => Math.cos(2 * Math.PI * 8 * Math.log2(hz)));
  const calm = judgedIn(inputOf(small));
  const rough = judgedIn(inputOf(sum(small, swings)));
  expect(calm.probability).toBeGreaterThan(0.6);
  expect(rough.probability).toBeLessThan(calm.probability - 0.1);
  expect(calm.told).toMatch(/how rough the curve is ×/);
  expect(rough.told).toMatch(/how rough the curve is ÷/);
});

test('a curve that smoothing calmed is not the calmer for it', () => {
  const { peak, scene } = peakIn({ ...inputOf(own), smoothedOverOctaves: 1 / 3 });
  expect(roughAround(peak, scene)).toBe(0);
});

test('roughness is the RMS height around, the feature itself and what is out of reach or range left out', () => {
  const octave = frequencyHz.map(Math.log2);
  const index = frequencyHz.findIndex((hz) => hz >= 1000);
  const at = { index, widthOctaves: 0.25 };
  const heightDb = frequencyHz.map((_, i) => {
    const away = octave[i]! - octave[index]!;
    return Math.abs(away) < 0.2 ? 10 : Math.abs(away) > 1.5 ? 7 : away < 0 ? 3 : -1;
  });
  const scene = { frequencyHz, octave, heightDb };
  expect(roughnessAround(at, scene, 1)).toBeCloseTo(Math.sqrt((9 + 1) / 2), 6);
  expect(roughnessAround(at, scene, 1, { fromHz: 1000, toHz: 20000 })).toBeCloseTo(1, 9);
  expect(roughnessAround(at, scene, 1, { fromHz: 9000, toHz: 20000 })).toBe(0);
});
