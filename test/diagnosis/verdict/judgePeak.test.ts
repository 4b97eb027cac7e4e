import { expect, test } from 'vitest';
import { logGrid } from '../../../src/curve/logGrid.js';
import { resampleToGrid } from '../../../src/curve/resampleToGrid.js';
import { diagnose } from '../../../src/diagnosis/diagnose.js';
import type { DiagnosisInput } from '../../../src/diagnosis/scene/diagnosisInput.js';
import type { Finding } from '../../../src/diagnosis/verdict/finding.js';
import type { EvaluationCase } from '../../evaluate/evaluationCase.js';
import { lateEchoes } from '../../evaluate/lateEchoes.js';
import { depthIn } from '../../evaluate/ownShare.js';
import { pathRoom } from '../../evaluate/pathRooms.js';
import { simulatedRoom } from '../../evaluate/simulatedRooms.js';
import { bell, type Response, sum } from '../../pipeline/samples.js';

const frequencyHz = logGrid(20, 20000);
const range = { fromHz: 60, toHz: 18000 };
/** By way of a grid that holds every comb here, as a measuring program has it. */
const fineHz = logGrid(20, 20000, 960);
const curveOf = (response: Response) =>
  resampleToGrid({ frequencyHz: fineHz, levelDb: fineHz.map(response) }, frequencyHz);
const peaksOf = (input: DiagnosisInput) => diagnose(input).findings.filter(({ kind }) => kind === 'peak');
const near = (findings: readonly Finding[], hz: number) =>
  findings.reduce((a, b) => (Math.abs(b.frequencyHz - hz) < Math.abs(a.frequencyHz - hz) ? b : a));
const ofSpeaker = ({ cause, confidence }: Finding) =>
  cause.type === 'speaker' ? confidence : 1 - confidence;

/** Direct sound and one echo: |1 + g·e^(−jωτ)|, with tops at n/τ. */
const echo =
  (delayS: number, strength: number): Response =>
  (hz) =>
    10 * Math.log10(1 + strength ** 2 + 2 * strength * Math.cos(2 * Math.PI * hz * delayS));

test('a peak that stands alone is the speaker’s, but one curve makes nobody surer than 95 %', () => {
  for (const [hz, q] of [
    [800, 1.5],
    [3000, 2],
    [4000, 3],
  ] as const) {
    const [peak, ...others] = peaksOf({ curve: curveOf(bell(hz, 4, q)), range });
    expect(others).toEqual([]);
    expect(peak).toMatchObject({ verdict: 'equalize', cause: { type: 'speaker' } });
    expect(peak!.confidence).toBeLessThanOrEqual(0.95);
  }
});

test.each([
  [3, 0.25],
  [5, 0.35],
  [8, 0.3],
  [12, 0.4],
])('tops of the comb of an echo %i ms late and %f as strong are not the speaker’s', (ms, strength) => {
  const peaks = peaksOf({ curve: curveOf(echo(ms / 1000, strength)), range });
  expect(peaks.length).toBeGreaterThan(3);
  expect(peaks.filter(({ cause }) => cause.type === 'speaker')).toEqual([]);
});

test('the direct sound alone clears or convicts, and a peak that stays elsewhere is the surer the speaker’s', () => {
  const own = bell(3000, 4, 4);
  const beside = echo(0.004, 0.2);
  const curve = curveOf(sum(own, beside));
  const alone = near(peaksOf({ curve, range }), 3000);
  const direct = (response: Response) => ({ curve: curveOf(response), resolvedFromHz: 250 });
  const cleared = near(peaksOf({ curve, range, direct: direct(own) }), 3000);
  const without = near(peaksOf({ curve, range, direct: direct(() => 0) }), 3000);
  expect(ofSpeaker(cleared)).toBeGreaterThan(ofSpeaker(alone));
  expect(ofSpeaker(without)).toBeLessThan(ofSpeaker(alone));
  expect(cleared.evidence.join(' ')).toMatch(/direct sound alone, before any reflection, has \d+ % of it/);
  const elsewhere = (response: Response) => [curveOf(sum(response, echo(0.0053, 0.2)))];
  const stayed = near(peaksOf({ curve, range, moved: elsewhere(own) }), 3000);
  const gone = near(peaksOf({ curve, range, moved: elsewhere(() => 0) }), 3000);
  expect(stayed.cause.type).toBe('speaker');
  expect(ofSpeaker(gone)).toBeLessThan(0.2);
  expect(stayed.evidence.join(' ')).toMatch(/of its height is left/);
});

test('a probability that a peak is the speaker’s is about as often true as it says', () => {
  const cases: EvaluationCase[] = [0, 1, 2, 3, 4].flatMap((k) => [
    simulatedRoom(6300 + k, { surroundings: 'few' }),
    simulatedRoom(6340 + k, { surroundings: 'room' }),
    simulatedRoom(6380 + k, { placement: 'anechoic' }),
    pathRoom(6420 + k, { geometryError: 0, geometryBias: 0, surfaces: 'random' }),
    lateEchoes(6460 + k, 'level'),
  ]);
  const called = cases.flatMap(({ input: { curve, range }, ownDb }) => {
    const measured = depthIn(curve.frequencyHz, curve.levelDb);
    const own = depthIn(curve.frequencyHz, ownDb);
    return peaksOf({ curve, range })
      .filter(({ cause }) => cause.type === 'speaker')
      .map((peak) => ({
        said: peak.confidence,
        own: -own(peak) >= 0.5 * Math.max(0.5, -measured(peak)),
      }));
  });
  expect(called.length).toBeGreaterThan(20);
  const said = called.reduce((all, each) => all + each.said, 0) / called.length;
  const right = called.filter(({ own }) => own).length / called.length;
  // Three deviations of a share of so many.
  expect(Math.abs(right - said)).toBeLessThan(3 * Math.sqrt((said * (1 - said)) / called.length));
});

test('what is no more than positions differ by is the less the speaker’s, unless the direct sound has it', () => {
  for (const sign of [1, -1]) {
    const curve = curveOf(sum(bell(3000, sign * 3, 4), echo(0.004, 0.15)));
    const ofAverage = (spreadDb: number, more: Partial<DiagnosisInput> = {}) =>
      ofSpeaker(
        near(
          diagnose({
            curve,
            range,
            spreadDb: new Float64Array(frequencyHz.length).fill(spreadDb),
            ...more,
          }).findings.filter(({ kind }) => kind === (sign > 0 ? 'peak' : 'dip')),
          3000,
        ),
      );
    const calm = ofAverage(0.3);
    expect(calm).toBeGreaterThan(0.6);
    // Twice over the spread counts as clear of it.
    expect(ofAverage(1.2)).toBeCloseTo(calm, 9);
    expect(ofAverage(3)).toBeLessThan(calm);
    expect(ofAverage(6)).toBeLessThan(ofAverage(3));
    const direct = { curve: curveOf(bell(3000, sign * 3, 4)), resolvedFromHz: 200 };
    expect(ofAverage(6, { direct })).toBeCloseTo(ofAverage(0.3, { direct }), 2);
  }
});
