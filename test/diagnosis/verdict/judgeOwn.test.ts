import { expect, test } from 'vitest';
import { logGrid } from '../../../src/curve/logGrid.js';
import { resampleToGrid } from '../../../src/curve/resampleToGrid.js';
import { diagnose } from '../../../src/diagnosis/diagnose.js';
import { earlyOctaves } from '../../../src/diagnosis/evidence/laterEvidence.js';
import type { DiagnosisInput } from '../../../src/diagnosis/scene/diagnosisInput.js';
import type { Finding } from '../../../src/diagnosis/verdict/finding.js';
import { dullWalls } from '../../evaluate/dullWalls.js';
import type { EvaluationCase } from '../../evaluate/evaluationCase.js';
import { lateEchoes } from '../../evaluate/lateEchoes.js';
import { ownShareOf } from '../../evaluate/ownShare.js';
import { simulatedRoom } from '../../evaluate/simulatedRooms.js';
import { bell, type Response, sum } from '../../pipeline/samples.js';

const frequencyHz = logGrid(20, 20000);
const range = { fromHz: 60, toHz: 18000 };
/** By way of a grid that holds every comb here, as a measuring program has it: 48 points an octave alone would not. */
const fineHz = logGrid(20, 20000, 960);
const curveOf = (response: Response) =>
  resampleToGrid({ frequencyHz: fineHz, levelDb: fineHz.map(response) }, frequencyHz);
const dipsOf = (input: DiagnosisInput) => diagnose(input).findings.filter(({ kind }) => kind === 'dip');

/** Direct sound and one echo: |1 + g·e^(−jωτ)|, with dips at (2n − 1)/(2τ). */
const echo =
  (delayS: number, strength: number): Response =>
  (hz) =>
    10 * Math.log10(1 + strength ** 2 + 2 * strength * Math.cos(2 * Math.PI * hz * delayS));

test.each([
  [3, 0.25],
  [5, 0.2],
  [5, 0.35],
  [8, 0.3],
  [12, 0.4],
])('the comb of an echo %i ms late and %f as strong is neither the speaker’s nor filled', (ms, strength) => {
  const dips = dipsOf({ curve: curveOf(echo(ms / 1000, strength)), range });
  expect(dips.length).toBeGreaterThan(3);
  expect(dips.filter(({ verdict }) => verdict === 'equalize')).toEqual([]);
  expect(dips.filter(({ cause }) => cause.type === 'speaker')).toEqual([]);
});

test('a dip that stands alone is the speaker’s, but one curve makes nobody surer than 95 %', () => {
  for (const [hz, q] of [
    [500, 1.5],
    [3000, 2],
    [4000, 3],
  ] as const) {
    const [dip, ...others] = dipsOf({ curve: curveOf(bell(hz, -4, q)), range });
    expect(others).toEqual([]);
    expect(dip).toMatchObject({ verdict: 'equalize', cause: { type: 'speaker' } });
    expect(dip!.confidence).toBeLessThanOrEqual(0.95);
  }
});

test('the direct sound alone makes surer, and clears what a comb beside it would not', () => {
  const own = bell(3000, -5, 3);
  const curve = curveOf(sum(own, echo(0.004, 0.12)));
  const direct = { curve: curveOf(own), resolvedFromHz: 250 };
  const at = (input: DiagnosisInput) =>
    dipsOf(input).reduce((a, b) => (Math.abs(b.frequencyHz - 3000) < Math.abs(a.frequencyHz - 3000) ? b : a));
  const cleared = at({ curve, range, direct });
  expect(cleared).toMatchObject({ verdict: 'equalize', cause: { type: 'speaker' } });
  const alone = at({ curve, range });
  const speakers = ({ cause, confidence }: Finding) =>
    cause.type === 'speaker' ? confidence : 1 - confidence;
  expect(speakers(cleared)).toBeGreaterThan(speakers(alone));
});

const judged = (cases: readonly EvaluationCase[]) =>
  cases.flatMap((sample) => {
    const share = ownShareOf(sample);
    const { curve } = sample.input;
    return dipsOf({ curve, range: sample.input.range }).map((finding) => ({
      finding,
      own: share(finding) >= 0.5,
    }));
  });

test('of dips among late echoes that are left to the equalizer nearly all are the speaker’s own', () => {
  const all = judged(Array.from({ length: 12 }, (_, k) => lateEchoes(700 + k, 'level')));
  const filled = all.filter(({ finding }) => finding.verdict === 'equalize');
  expect(all.filter(({ own }) => !own).length).toBeGreaterThan(30);
  expect(filled.length).toBeGreaterThan(3);
  expect(filled.filter(({ own }) => !own).length).toBeLessThanOrEqual(filled.length / 5);
});

test('a speaker in the open keeps its broad dips', () => {
  const broad = judged(
    Array.from({ length: 10 }, (_, k) => simulatedRoom(720 + k, { placement: 'anechoic' })),
  ).filter(({ finding }) => finding.widthOctaves >= 1 / 3 && finding.levelDb < -1.2);
  expect(broad.length).toBeGreaterThan(5);
  const kept = broad.filter(({ finding }) => finding.verdict === 'equalize');
  expect(kept.length).toBeGreaterThanOrEqual(0.85 * broad.length);
});

test('combs of desks that the speaker was moved along are hardly filled for having stayed', () => {
  const dips = Array.from({ length: 7 }, (_, k) => 0.0005 + 0.00015 * k).flatMap((delayS) => {
    const desk = echo(delayS, 0.25);
    return dipsOf({
      curve: curveOf(sum(desk, echo(0.004, 0.3))),
      range,
      moved: [curveOf(sum(desk, echo(0.0053, 0.3)))],
    });
  });
  expect(dips.length).toBeGreaterThan(100);
  // 2.3 % of them, as measured; nothing in the curves tells a desk that stayed from a speaker.
  expect(dips.filter(({ verdict }) => verdict === 'equalize').length).toBeLessThan(0.03 * dips.length);
});

test('a wide dip below 1 kHz, which a dull wall close by makes as well, is nobody’s for sure', () => {
  const cases = Array.from({ length: 16 }, (_, k) => dullWalls(740 + k, { walls: 1 + (k % 2) }));
  const wide = (known: (input: DiagnosisInput) => DiagnosisInput) =>
    cases.flatMap(({ input }) =>
      dipsOf(known(input)).filter((dip) => dip.levelDb < -1.2 && earlyOctaves(dip) >= 0.4),
    );
  const alone = wide(({ curve, range }) => ({ curve, range }));
  const named = wide((input) => input);
  expect(alone.length).toBeGreaterThan(6);
  for (const { cause, confidence } of alone)
    if (cause.type === 'speaker') expect(confidence).toBeLessThanOrEqual(0.651);
  expect(named.filter(({ verdict }) => verdict === 'equalize')).toEqual([]);
});

test.each([
  [9000, -2.5, 2],
  [6900, -3, 2.5],
] as const)(
  'a wide dip at %i Hz that lies a fifth higher elsewhere is not the speaker’s',
  (hz, gainDb, q) => {
    // Much of its depth is left in its place, on the flank of the other.
    const own = bell(hz, gainDb, q);
    const input = (there: Response): DiagnosisInput => ({
      curve: curveOf(sum(own, echo(0.004, 0.1))),
      range,
      moved: [curveOf(sum(there, echo(0.0053, 0.1)))],
    });
    const of = (there: Response) =>
      dipsOf(input(there)).reduce((a, b) =>
        Math.abs(b.frequencyHz - hz) < Math.abs(a.frequencyHz - hz) ? b : a,
      );
    expect(of(own)).toMatchObject({ cause: { type: 'speaker' }, verdict: 'equalize' });
    const moved = of(bell(1.21 * hz, 1.5 * gainDb, q));
    expect(moved.cause.type).not.toBe('speaker');
    expect(moved.verdict).not.toBe('equalize');
  },
);

test('what is laid to later sound says so first, and takes nothing back that it says of reflections', () => {
  const later = [0.003, 0.008, 0.012]
    .flatMap((delayS) => dipsOf({ curve: curveOf(echo(delayS, 0.3)), range }))
    .filter(
      ({ cause, evidence }) => cause.type === 'reflection' && evidence.join(' ').includes('told apart'),
    );
  expect(later.length).toBeGreaterThan(5);
  for (const { evidence } of later) {
    expect(evidence[0]).toMatch(/^(Neither the speaker nor one path|Hardly the speaker's)/);
    const words = evidence.join(' ');
    if (/make all of/.test(words)) expect(words).not.toMatch(/Neither the speaker nor one path/);
    expect(words).not.toMatch(/Odds for the placement/);
  }
});
